//! What a page is made of.

use evidence::Digest;
use job::Job;
use job::rules::Locale;
use std::collections::BTreeMap;

/// Most bytes of the customer's report: 500 KB go through any messenger and any phone plan.
pub const CUSTOMER_BYTES: usize = 500_000;

/// Most bytes of the full report: 10 MB go through most mail servers.
pub const FULL_BYTES: usize = 10_000_000;

/// Everything that a page shows.
pub struct FindingsInput<'a> {
    /// The job as its records tell it.
    pub job: &'a Job,
    /// Running number of this report in its job, from 1.
    pub number: usize,
    /// Where the shop is and how it is reached.
    pub shop: ShopPrint,
    /// The circuit with every reading on it, as SVG; empty where none is chosen or it can't be drawn.
    pub drawing: String,
    /// The newest checkpoint before the report.
    pub checkpoint: CheckpointPrint,
    /// The small JPEG of a photo, without metadata. One that carries EXIF, XMP or IPTC is left out of the report.
    pub picture: &'a dyn Fn(&Digest) -> Option<Vec<u8>>,
    /// Photos whose originals the shop no longer has, and since when it says so (RFC 3339 with offset).
    pub missing_photos: BTreeMap<Digest, String>,
    /// Most bytes of the file: [`CUSTOMER_BYTES`] or [`FULL_BYTES`]. Text is never cut. Of the pictures the proof comes
    /// first, then the finding's readings; pictures beyond are left out, their hashes stay.
    pub most_bytes: usize,
    /// When the report is written, RFC 3339 with offset.
    pub written: String,
    /// Rules of the region that hold for this job.
    pub rules: RulesPrint,
    /// Times that authorities stated, checked; oldest first.
    pub outside_times: Vec<OutsideTimePrint>,
}

/// A time that an authority stated over a checkpoint of the job.
#[derive(Clone, Debug)]
pub struct OutsideTimePrint {
    /// The time, RFC 3339 with offset.
    pub time: String,
    /// What the signer calls itself.
    pub signer: String,
    /// Records the checkpoint covers.
    pub size: u64,
    /// It leads to a root that the shop named.
    pub trusted: bool,
}

/// A signed checkpoint as it is printed.
#[derive(Clone, Debug)]
pub struct CheckpointPrint {
    /// The checkpoint text, as signed.
    pub text: String,
    /// Records it covers.
    pub size: u64,
    /// Its root in eight words.
    pub root_words: String,
    /// The signed note; it goes into the QR code.
    pub note: String,
    /// Fingerprint of the signing key.
    pub fingerprint: Digest,
    /// The same in eight words.
    pub fingerprint_words: String,
    /// Wall time of the signature, RFC 3339 with offset.
    pub signed: String,
}

/// Rules of a region, as far as the report names them.
#[derive(Clone, Debug, Default)]
pub struct RulesPrint {
    /// Name of the region.
    pub region: String,
    /// How the region writes amounts, and its paper.
    pub locale: Locale,
    /// Days within which a cardholder's notice reaches the card issuer, where a rule says so.
    pub card_notice_days: Option<u32>,
    /// Where the rules were read.
    pub sources: Vec<String>,
}

/// What a letterhead says of the shop; what isn't written down is left out. The name stands in the job's first record.
#[derive(Clone, Debug, Default)]
pub struct ShopPrint {
    /// Street, place, state, code.
    pub address: String,
    /// Phone.
    pub phone: String,
    /// E-mail.
    pub email: String,
    /// The shop's registration number as the settings hold it, for a job that was opened without one.
    pub registration: String,
}
