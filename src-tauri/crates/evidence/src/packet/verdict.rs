//! What a check of a packet found: proven, not proven, and what is wrong where.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::says::{Doubt, Headline, Open, Proven, Said, Statement, Wrong};
use crate::timestamp::Stamp;
use crate::{Checkpoint, Digest};

/// The place of a problem whose bytes belong to no file.
pub const CONTAINER: &str = "container";

/// The result of checking a packet.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Verdict {
    /// Whether nothing is wrong. What that proves stands in `headline` and `proven`, what it doesn't in `not_proven`.
    pub good: bool,
    /// The first line: what was found, and never more.
    pub headline: Headline,
    /// Its words.
    pub headline_said: Said,
    /// `shop/job` as the bag states it.
    pub job: Option<String>,
    /// One entry per device.
    pub logs: Vec<LogVerdict>,
    /// Photos the records speak for.
    pub photos: PhotoCount,
    /// How many values that may be withheld are disclosed here.
    pub disclosed: u64,
    /// How many are withheld: their digests stand in the records, the values are not here.
    pub withheld: u64,
    /// Times that come from outside, by authorities whose root the caller named; by log and checkpoint.
    pub times: Vec<OutsideTime>,
    /// What certificates of strangers claim about time. It proves none.
    #[serde(default)]
    pub claimed_times: Vec<OutsideTime>,
    /// Version of this program that wrote `verify.sh`; none if its text is unknown.
    pub script: Option<String>,
    /// What is proven.
    pub proven: Vec<Finding>,
    /// What isn't, always said.
    pub not_proven: Vec<Finding>,
    /// What is strange about clocks, bills or readings; it makes nothing bad, but a reader should know.
    pub doubts: Vec<Finding>,
    /// What is wrong; the first is the most basic.
    pub problems: Vec<Finding>,
}

impl Verdict {
    /// 0 if everything is unchanged since the keys of the headline sealed it, 1 if not. (2, "could not be read", is for errors.)
    pub fn exit_code(&self) -> u8 {
        u8::from(!self.good)
    }
}

/// One statement of a verdict.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Finding {
    /// What it is about, for translation.
    pub code: Code,
    /// The file it is about, below the bag's folder; `container` where no file owns the bytes.
    pub place: Option<String>,
    /// The statement with its values.
    pub says: Statement,
    /// Its words in English.
    pub what: String,
    /// Its words in Spanish.
    pub what_es: String,
}

impl Finding {
    /// A statement about something.
    pub fn new(code: Code, place: Option<&str>, says: Statement) -> Self {
        let Said { en, es } = says.said();
        Self { code, place: place.map(str::to_owned), says, what: en, what_es: es }
    }
}

/// What a statement of a verdict is about.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Code {
    /// The zip around the files.
    Container,
    /// Files against manifests, BagIt's own files.
    Manifest,
    /// The signatures of the checkpoints.
    Signature,
    /// Outside time-stamps.
    Timestamp,
    /// The chain of records, the roots and the consistency proofs.
    Chain,
    /// References between the logs of several devices.
    OtherLogs,
    /// Photos against their records.
    Photo,
    /// Reports against their records.
    Report,
    /// Disclosed values against the digests in records.
    Disclosure,
    /// Whose key it is, and how one key followed another.
    Key,
    /// How the device's clock ran.
    Clock,
    /// Derivatives that stand in for an original.
    Redaction,
    /// Derivatives from which only what the file carried besides the picture was taken out.
    Stripped,
    /// Photos whose originals the shop says it no longer has.
    PhotoMissing,
    /// Whether records are missing at the end or could have been rewritten, compared with a checkpoint known from elsewhere.
    Tail,
    /// Whether there is a second history of the log beside this one.
    Fork,
    /// Whether what was recorded is true.
    Truth,
    /// Whether the texts in the packet are ones this program writes.
    Texts,
    /// Whether records that refer to each other say the same.
    Meaning,
}

/// One device's log.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct LogVerdict {
    /// The device.
    pub device: String,
    /// How many records.
    pub records: u64,
    /// SHA-256 of the newest public key (SubjectPublicKeyInfo), to compare with the one handed over.
    pub fingerprint: Option<Digest>,
    /// The fingerprint in words, see [`crate::fingerprint_words`].
    pub words: Option<String>,
    /// Whether the key that signed the last checkpoint is one the caller named, or leads back to one by signed
    /// statements without a break.
    pub trusted: bool,
    /// Every key of the log in order.
    pub keys: Vec<KeyVerdict>,
    /// How often the device was started anew between two records.
    pub restarts: u64,
    /// The newest checkpoint whose signature and root fit.
    pub checkpoint: Option<Checkpoint>,
    /// The last checkpoint as a signed note, if its signature fits: what to keep for the next check.
    #[serde(default)]
    pub note: Option<String>,
    /// The records that have a signature of their own, in stretches.
    #[serde(default)]
    pub signed_alone: Vec<Stretch>,
}

/// Records one after the other, counted from 1.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Stretch {
    /// The first.
    pub first: u64,
    /// The last.
    pub last: u64,
}

/// One key of a log.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct KeyVerdict {
    /// SHA-256 of the public key.
    pub fingerprint: Digest,
    /// In words.
    pub words: String,
    /// It signs checkpoints over this many records and more, until the next key.
    pub from: u64,
    /// How many checkpoints it signed here.
    pub checkpoints: u64,
    /// How it came.
    pub came: KeyCame,
    /// Whether the caller named it, or a named key leads to it by signed statements.
    pub trusted: bool,
}

/// How a key came to sign a log.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum KeyCame {
    /// It was the log's first.
    First,
    /// The key before named it in a signed statement.
    Named,
    /// The key before was reported lost; nobody vouches for this one.
    AfterLoss,
}

/// A time that comes from outside.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct OutsideTime {
    /// The device whose log was stamped.
    pub device: String,
    /// How many records the stamped checkpoint covers: these existed by that time.
    pub size: u64,
    /// What the authority states.
    pub stamp: Stamp,
    /// Whether it leads to a root that the caller named. If not, nothing says who states it.
    pub trusted: bool,
    /// The file, below the bag's folder.
    pub place: String,
}

/// How many photos there are.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct PhotoCount {
    /// In the packet, with the bytes their record names.
    pub present: u64,
    /// Named by a record but not in the packet.
    pub absent: u64,
    /// Of those, how many a derivative stands in for.
    pub redacted: u64,
    /// Of the derivatives that stand in, how many only lack what the file carried besides the picture.
    #[serde(default)]
    pub stripped: u64,
    /// Of the absent ones that no derivative stands in for, how many the shop says it no longer has.
    #[serde(default)]
    pub missing: u64,
}

/// The lists of statements while they grow.
#[derive(Debug, Default)]
pub struct Findings {
    pub proven: Vec<Finding>,
    pub not_proven: Vec<Finding>,
    pub problems: Vec<Finding>,
    pub doubts: Vec<Finding>,
}

impl Findings {
    pub fn proven(&mut self, code: Code, says: Proven) {
        self.proven.push(Finding::new(code, None, Statement::Proven(says)));
    }

    pub fn not_proven(&mut self, code: Code, place: Option<&str>, says: Open) {
        self.not_proven.push(Finding::new(code, place, Statement::Open(says)));
    }

    pub fn problem(&mut self, code: Code, place: &str, says: Wrong) {
        self.problems.push(Finding::new(code, Some(place), Statement::Wrong(says)));
    }

    pub fn doubt(&mut self, code: Code, place: &str, says: Doubt) {
        self.doubts.push(Finding::new(code, Some(place), Statement::Doubt(says)));
    }

    /// Says it is proven if no problem with `code` was found.
    pub fn proven_unless(&mut self, code: Code, says: Proven) {
        if self.problems.iter().all(|problem| problem.code != code) {
            self.proven(code, says);
        }
    }
}
