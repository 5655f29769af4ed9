use super::*;
use ::job::Recipient;
use ::job::sharing::PhotoShare;

/// Exactly what a packet would hand out, before it is written.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct SharingView {
    /// Recipient.
    pub recipient: Recipient,
    /// Every personal or free-text value of the job.
    pub values: Vec<ValueShareView>,
    /// Every photo of the job.
    pub photos: Vec<PhotoShareView>,
    /// Reports that go along: those written for this recipient.
    pub reports: Vec<WrittenFileView>,
    /// Reports that stay here.
    pub reports_withheld: u32,
}

/// One value.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ValueShareView {
    /// Its salted digest.
    pub digest: String,
    /// Kind of record it stands in.
    pub kind: String,
    /// Field.
    pub field: String,
    /// The value, shortened; empty for a signature.
    pub text: String,
    /// Goes out unless the technician says otherwise.
    pub goes_out: bool,
}

/// One photo.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PhotoShareView {
    /// The photo.
    pub photo: PhotoView,
    /// The newest copy with covered areas; empty when there is none.
    pub covered: String,
    /// `original`, `covered`, `withheld`: unless the technician says otherwise.
    pub share: PhotoShare,
    /// The original's bytes are here; false after forgetting.
    pub at_hand: bool,
}

/// What forgetting the customer would do, or did.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ForgettingView {
    /// Values that go: kind of record, field, how many.
    pub goes: Vec<FieldCount>,
    /// Values that stay for now because records of a repair must be kept.
    pub stays: Vec<FieldCount>,
    /// Photos and reports whose bytes go.
    pub files: u32,
    /// Day from which what stays may go too; empty when nothing stays.
    pub until: String,
    /// Years the region's rule, or our caution, keeps records.
    pub years: u32,
    /// Region by name.
    pub region: String,
    /// Packets written so far: they are out of reach.
    pub packets: u32,
    /// True when there is nothing left to destroy.
    pub nothing_left: bool,
}

/// How many values of one field.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct FieldCount {
    /// Kind of record.
    pub kind: String,
    /// Field.
    pub field: String,
    /// How many.
    pub count: u32,
}
