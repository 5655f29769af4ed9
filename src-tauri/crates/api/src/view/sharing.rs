use super::*;
use ::job::Recipient;
use ::job::event::ReportForm;
use ::job::sharing::PhotoShare;

/// Exactly what a packet would hand out, before it is written.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct SharingView {
    /// Recipient.
    pub recipient: Recipient,
    /// Papers that may be written for this reader, the one that serves them best first.
    pub forms: Vec<ReportForm>,
    /// Suppliers whose bills this reader may be told of.
    pub suppliers: Vec<String>,
    /// Every personal or free-text value of the job.
    pub values: Vec<ValueShareView>,
    /// Every photo of the job.
    pub photos: Vec<PhotoShareView>,
    /// Every record of the job, oldest first: what stands in the records themselves goes out to everybody.
    pub records: Vec<RecordShareView>,
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
    /// The whole value; empty for a signature.
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
    /// The newest copy with covered areas; empty when there is none here.
    pub covered: String,
    /// What goes out of it unless the technician says otherwise.
    pub share: PhotoShare,
    /// What became of the original.
    pub original: OriginalState,
    /// Since when a record says that the original is lost (wall clock with offset); empty when none does.
    pub missing_since: String,
    /// Codes of what the original's file carries besides the picture: `location`, `serial`, `person`, `device`, `date`,
    /// `maker_notes`, `thumbnail`, `xmp`, `iptc`, `text`, `appended`, `other`. Empty when it carries nothing.
    pub carries: Vec<String>,
    /// A copy without all that can be made here (not of HEIC).
    pub can_strip: bool,
    /// Marks on it: where the photo goes out, a copy with them goes along.
    pub marks: u32,
}

/// What of a record goes out to everybody: all that stands in the record itself.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct RecordShareView {
    /// Leaf hash of the record.
    pub record: String,
    /// Kind; empty for one that can't be read, which goes out as its bytes are.
    pub kind: String,
    /// Wall time with offset.
    pub kept: String,
    /// What was entered, value by value.
    pub values: Vec<PublicValueView>,
    /// What the app wrote around it: place in the log, clocks, hashes, photos, digests of withheld values.
    pub around: Vec<PublicValueView>,
}

/// One value as it stands in a record.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PublicValueView {
    /// Where in the record it stands, names and places of lists from 0 ("estimate.lines.0.description").
    pub name: String,
    /// The whole value.
    pub text: String,
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
    pub region: BothLanguages,
    /// Packets written so far: they are out of reach.
    pub packets: u32,
    /// True when there is nothing left to destroy.
    pub nothing_left: bool,
    /// Bytes of those photos and reports, decimal string.
    pub files_bytes: String,
    /// Previews of them that go.
    pub previews: u32,
    /// Forms that were begun and not saved; they go.
    pub drafts: u32,
    /// Reports and packets in the export folder that go, by name.
    pub exports: Vec<NamedFileView>,
    /// Files that were set aside after damage and go, by name: they hold what they held then.
    pub put_aside: Vec<NamedFileView>,
    /// Copies that can't be called back: backups and exports since the job was opened, and its packets.
    pub copies: Vec<CopyView>,
}

/// A file below the data folder.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct NamedFileView {
    /// Its place below the data folder.
    pub name: String,
    /// Size in bytes, decimal string.
    pub bytes: String,
}

/// A copy that was written and is out of reach.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct CopyView {
    /// `backup`, `open_export` or `packet`.
    pub what: String,
    /// File or folder name.
    pub name: String,
    /// Where it was written.
    pub path: String,
    /// Time it was written.
    pub written: String,
    /// SHA-256 of the file, of an open export that of its list of hashes; empty when it isn't known.
    pub sha256: String,
    /// It still lies where it was written.
    pub here: bool,
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
