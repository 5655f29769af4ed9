pub use job::Recipient;
pub use job::event::ReportForm;
pub use job::sharing::PhotoShare;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// A report to be written.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ReportEntry {
    /// `en` or `es`.
    pub language: String,
    /// Who reads it: it shows what their preset lets out and nothing else.
    pub recipient: Recipient,
    /// What sort of paper.
    pub form: ReportForm,
    /// A statement is about this supplier's bill, by the name as it stands in the job; empty where it is about the customer's.
    #[serde(default)]
    pub supplier: String,
}

impl ReportEntry {
    /// The sort of paper that a reader is served best with.
    pub fn preset(language: &str, recipient: Recipient) -> ReportEntry {
        let form = ReportForm::preset(recipient);
        ReportEntry { language: language.to_owned(), recipient, form, supplier: String::new() }
    }

    /// Everything that is on record.
    pub fn full(language: &str, recipient: Recipient) -> ReportEntry {
        ReportEntry { form: ReportForm::Full, ..Self::preset(language, recipient) }
    }
}

/// A packet to be written. With no changes, what goes out is what its recipient's preset says.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct PacketEntry {
    /// `en` or `es`: language of the texts in the packet.
    pub language: String,
    /// Who it goes to.
    pub recipient: Recipient,
    /// A packet for a supplier, or for whoever judges between it and the shop: this supplier, by the name as it stands in the
    /// job. Empty for a supplier: the one whose bill differs most from what was agreed.
    #[serde(default)]
    pub supplier: String,
    /// Values for which the technician decided otherwise than the preset.
    #[serde(default)]
    pub values: Vec<ValueChoice>,
    /// Photos for which the technician decided otherwise than the preset.
    #[serde(default)]
    pub photos: Vec<PhotoChoice>,
}

impl PacketEntry {
    /// The preset of a recipient, unchanged.
    pub fn preset(language: &str, recipient: Recipient) -> PacketEntry {
        PacketEntry {
            language: language.to_owned(),
            recipient,
            supplier: String::new(),
            values: Vec::new(),
            photos: Vec::new(),
        }
    }

    /// Nothing was chosen otherwise than the preset has it.
    pub fn is_preset(&self) -> bool {
        self.values.is_empty() && self.photos.is_empty()
    }
}

/// One value: does it go out?
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct ValueChoice {
    /// Its salted digest, as in the preview.
    pub digest: String,
    /// True when it goes out.
    pub goes_out: bool,
}

/// One photo: what goes out of it?
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct PhotoChoice {
    /// The original.
    pub photo: String,
    /// What goes out of it.
    pub share: PhotoShare,
}

/// Areas of a photo to be covered in a copy.
#[derive(Clone, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct CoverEntry {
    /// The original.
    pub photo: String,
    /// At least one.
    pub areas: Vec<AreaEntry>,
}

/// A rectangle in thousandths of the upright picture's width and height.
#[derive(Clone, Copy, Debug, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct AreaEntry {
    /// From the left side.
    pub left: u32,
    /// From the upper side.
    pub top: u32,
    /// Width.
    pub width: u32,
    /// Height.
    pub height: u32,
}
