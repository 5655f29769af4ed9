use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// A checkpoint as it is shown to the customer.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct CheckpointView {
    /// Records it covers.
    pub size: u32,
    /// The checkpoint text (C2SP tlog-checkpoint).
    pub text: String,
    /// The root in eight words.
    pub words: String,
    /// The signed note as a QR code (SVG).
    pub qr: String,
    /// Time it was signed.
    pub signed: String,
}

/// A file that was written.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct WrittenFileView {
    /// Full path.
    pub path: String,
    /// File name.
    pub name: String,
    /// Size in bytes, decimal string.
    pub bytes: String,
    /// SHA-256, hexadecimal.
    pub sha256: String,
    /// Time it was written.
    pub written: String,
}

/// What a verification found.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct VerificationView {
    /// True when nothing was refused.
    pub good: bool,
    /// The first line, which says what was found and no more.
    pub headline: SaidView,
    /// What is proven.
    pub proven: Vec<SaidView>,
    /// What is not.
    pub not_proven: Vec<SaidView>,
    /// What is strange.
    pub doubts: Vec<ProblemView>,
    /// What was refused and where.
    pub problems: Vec<ProblemView>,
    /// Fingerprint of the key that signed.
    pub fingerprint: String,
    /// The same in words.
    pub fingerprint_words: String,
    /// Records checked.
    pub records: u32,
    /// Photos checked.
    pub photos: u32,
}

/// Something that was refused.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ProblemView {
    /// File in the packet, or `container`.
    pub place: String,
    /// What is wrong with it.
    pub what: SaidView,
}

/// A sentence of the verifier: it keeps the words of verdicts in both languages, so that screen, text and packet say the same.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct SaidView {
    /// In English.
    pub en: String,
    /// In Spanish.
    pub es: String,
}

/// Progress of long work.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct WorkView {
    /// Code of what is being done, empty when nothing is.
    pub what: String,
    /// Bytes or steps done.
    pub done: u32,
    /// Of how many.
    pub total: u32,
}
