//! What the screen sends: one struct per user action. Text is taken as typed; it is checked and normalised here in Rust.

mod approval;
mod authority;
mod bench;
mod blocks;
mod buy_price;
mod circuit;
mod form;
mod intake;
mod jobs;
mod marking;
mod money;
mod own_circuit;
mod payment;
mod photo;
mod programming;
mod reading;
mod sharing;
mod shop;

pub use approval::*;
pub use authority::*;
pub use bench::*;
pub use blocks::*;
pub use buy_price::*;
pub use circuit::*;
pub use form::*;
pub use intake::*;
pub use jobs::*;
pub use marking::*;
pub use money::*;
pub use own_circuit::*;
pub use payment::*;
pub use photo::*;
pub use programming::*;
pub use reading::*;
pub use sharing::*;
pub use shop::*;
