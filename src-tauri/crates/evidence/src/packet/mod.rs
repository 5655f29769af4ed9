//! The packet: a BagIt bag (RFC 8493) in a deterministic zip that anybody can check without us.
//!
//! `write` puts it together, `verify` derives every byte it can again and checks the rest against the records.

mod attribution;
mod bag;
mod checks;
mod clock;
mod container;
mod contents;
mod keys;
mod knowledge;
mod ledger;
mod log_check;
mod pictures;
mod place;
mod positioned;
pub mod redaction;
mod script;
mod stamps;
mod texts;
mod verdict;
mod verify;
mod walk;
mod write;

pub use contents::{PacketContents, PacketLog, PacketPhoto, PacketReport, PacketTimestamp};
pub use script::{SCRIPT, known_script_version, published_scripts};
pub use stamps::OutsideTime;
pub use texts::Language;
pub use verdict::{Code, Finding, KeyCame, KeyVerdict, LogVerdict, PhotoCount, Verdict};
pub use verify::{Options, verify};
pub use write::write;

/// How far a long piece of work has come, in bytes.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Progress {
    /// Bytes done.
    pub done: u64,
    /// Bytes to do.
    pub total: u64,
}

/// Called now and then during long work; answer [`std::ops::ControlFlow::Break`] to stop it.
pub type OnProgress<'a> = dyn FnMut(Progress) -> std::ops::ControlFlow<()> + Send + 'a;
