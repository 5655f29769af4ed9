//! One function per user action, a file per noun.

mod approvals;
mod backups;
mod bench;
mod blocks;
pub(crate) mod checking;
mod circuits;
mod copies;
mod covering;
mod drafts;
pub(crate) mod estimates;
mod findings;
mod forgetting;
mod found;
mod intake;
mod invoices;
mod jobs;
pub(crate) mod keys;
mod marking;
mod meters;
mod notices;
mod originals;
mod own_circuits;
mod packets;
pub(crate) mod parts;
mod photos;
mod readings;
pub(crate) mod reasoning;
mod reports;
pub(crate) mod sharing;
pub(crate) mod shop;
mod stripping;
mod taking_in;
mod timestamp_round;
mod timestamps;

pub use backups::{backup_check, restore};
pub(crate) use originals::ExaminedFiles;
