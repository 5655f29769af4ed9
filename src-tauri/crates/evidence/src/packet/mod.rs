//! The packet: a BagIt bag (RFC 8493) in a deterministic zip that anybody can check without us.
//!
//! `write` puts it together, `verify` derives every byte it can again and checks the rest against the records.

mod alone;
mod attribution;
mod bag;
mod checks;
mod clock;
mod container;
mod contents;
mod entries;
mod hashing;
mod heads;
mod keys;
mod knowledge;
mod ledger;
mod log_check;
mod meaning;
pub mod missing;
mod options;
mod others;
mod pictures;
mod place;
mod positioned;
mod progress;
mod records;
pub mod redaction;
mod said;
mod says;
mod script;
mod stamps;
mod texts;
mod verdict;
mod verify;
mod walk;
mod write;
mod zip_out;

pub use contents::{PacketContents, PacketLog, PacketPhoto, PacketReport, PacketTimestamp};
pub use options::Options;
pub use progress::{OnProgress, Progress};
pub use records::{Records, Visit};
pub use says::{Doubt, Head, Headline, Open, Proven, Said, Signer, Statement, Wrong};
pub use script::{SCRIPT, known_script_version, published_scripts};
pub use texts::Language;
pub use verdict::{
    Code, Finding, KeyCame, KeyVerdict, LogVerdict, OutsideTime, PhotoCount, Stretch, Verdict,
};
pub use verify::verify;
pub use write::write;
