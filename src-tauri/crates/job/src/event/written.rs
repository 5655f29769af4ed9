use super::RecordKind;
use super::check::Unusable;
use super::descriptor::{Descriptor, Field};
use crate::recipient::Recipient;
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A findings report was written; its bytes are kept under this hash.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReportWritten {
    /// SHA-256 of the PDF.
    pub sha256: Digest,
    /// Size in bytes, decimal.
    pub bytes: String,
    /// File name.
    pub name: String,
    /// Language: en or es.
    pub language: String,
    /// Who it was written for; the customer in older records, which don't say.
    #[serde(default)]
    pub recipient: Recipient,
    /// Records of this log that the printed checkpoint covers.
    pub checkpoint_size: u32,
    /// Size of the checkpoint that the PDF prints, as its second line states it; older records don't say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub size: Option<u32>,
    /// Its root; older records don't say.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub root: Option<Digest>,
}

impl RecordKind for ReportWritten {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "report_written",
        &[
            Field::public("sha256"),
            Field::public("bytes"),
            Field::public("name"),
            Field::public("language"),
            Field::public("recipient"),
            Field::public("checkpoint_size"),
            Field::public("size"),
            Field::public("root"),
        ],
    );

    fn check(&self) -> Result<(), Unusable> {
        // The name becomes a file in the export folder, and that file goes when a customer is forgotten: it must never
        // lead out of the folder.
        let plain = !self.name.is_empty()
            && !self.name.starts_with('.')
            && self.name.chars().all(|c| c.is_ascii_alphanumeric() || matches!(c, '-' | '_' | '.'));
        if plain {
            Ok(())
        } else {
            Err(Unusable::new("name", format!("{:?} is no plain file name", self.name)))
        }
    }
}
