use super::RecordKind;
use super::check::Unusable;
use super::descriptor::{COSTS, Descriptor, Field};
use crate::recipient::Recipient;
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What sort of paper was written.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum ReportForm {
    /// Everything on record that its reader may see.
    #[default]
    Full,
    /// One page for the customer, with at most three more behind it.
    Summary,
    /// The summary as one HTML file that reflows on a phone.
    Page,
    /// What is claimed, agreed, billed and paid, and what shows it.
    Statement,
}

impl ReportForm {
    /// Every sort, in the order of the screen.
    pub const ALL: [Self; 4] = [Self::Summary, Self::Page, Self::Full, Self::Statement];

    /// Code for files, words and the command line.
    #[must_use]
    pub const fn code(self) -> &'static str {
        match self {
            Self::Full => "full",
            Self::Summary => "summary",
            Self::Page => "page",
            Self::Statement => "statement",
        }
    }

    /// How its files end.
    #[must_use]
    pub const fn ending(self) -> &'static str {
        match self {
            Self::Page => "html",
            Self::Full | Self::Summary | Self::Statement => "pdf",
        }
    }

    /// The summary is the customer's: it tells their amounts. A statement and the full report are made for any reader.
    #[must_use]
    pub const fn is_for(self, recipient: Recipient) -> bool {
        match self {
            Self::Summary | Self::Page => matches!(recipient, Recipient::Customer),
            Self::Full | Self::Statement => true,
        }
    }

    /// What may be written for a reader: first the sort that they are served best with.
    pub fn offered(recipient: Recipient) -> impl Iterator<Item = Self> {
        let best = Self::preset(recipient);
        let others = Self::ALL.into_iter().filter(move |form| *form != best && form.is_for(recipient));
        std::iter::once(best).chain(others)
    }

    /// The sort that a reader is served best with.
    #[must_use]
    pub const fn preset(recipient: Recipient) -> Self {
        match recipient {
            Recipient::Customer => Self::Summary,
            Recipient::Arbiter | Recipient::CardIssuer | Recipient::Supplier => Self::Statement,
        }
    }
}

/// A report was written; its bytes are kept under this hash.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReportWritten {
    /// SHA-256 of the file.
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
    /// What sort of paper it is; the full report in older records, which don't say.
    #[serde(default)]
    pub form: ReportForm,
    /// The supplier whose bill it is about, for a statement about one. Withheld: it tells with whom the shop deals.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub supplier: String,
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
            Field::public("form"),
            Field::withheld("supplier", COSTS),
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
