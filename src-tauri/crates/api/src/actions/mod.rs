//! One function per user action, a file per noun.

mod backups;
mod circuits;
mod copies;
mod covering;
mod drafts;
pub(crate) mod estimates;
mod findings;
mod forgetting;
mod intake;
mod jobs;
pub(crate) mod keys;
mod meters;
mod notices;
mod own_circuits;
mod packets;
pub(crate) mod parts;
mod photos;
mod readings;
pub(crate) mod reasoning;
mod reports;
pub(crate) mod sharing;
pub(crate) mod shop;
mod timestamp_round;
mod timestamps;

pub use backups::{backup_check, restore};
