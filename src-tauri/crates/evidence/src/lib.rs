//! Sealed records, the tree of hashes over them, signatures, and the packet an outsider can check.
//!
//! This crate knows bytes and nothing else: no database, no vehicle, no picture, no clock. Time, randomness
//! and key seeds are arguments; files are reached only through `Read`, `Write` and `Seek` arguments.
//!
//! What it proves is "unchanged since it was sealed", never "true".
#![deny(missing_docs, clippy::missing_errors_doc)]

pub mod canonical;
pub mod checkpoint;
pub mod digest;
pub mod disclosure;
pub mod error;
pub mod frontier;
pub mod key;
pub mod levels;
pub mod moment;
mod naming;
pub mod packet;
pub mod record;
pub mod seal;
pub mod succession;
pub mod timestamp;
pub mod tree;

pub use checkpoint::{Checkpoint, HandedOver, SignedCheckpoint};
pub use digest::Digest;
pub use disclosure::Disclosure;
pub use error::EvidenceError;
pub use frontier::Frontier;
pub use key::{DeviceKey, PublicKey, fingerprint_words};
pub use levels::Levels;
pub use moment::Moment;
pub use record::{PhotoRef, Record};
pub use seal::{LogHead, LogId, NewRecord, Sealed, seal};
