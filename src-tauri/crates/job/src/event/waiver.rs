use super::descriptor::{AGREED, Descriptor, Field};
use super::{Channel, RecordKind};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The customer does without the written estimate that the rules of the region want before any work.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct EstimateWaived {
    /// How it was put in writing: in person with a signature, by text message or by email.
    pub channel: Channel,
    /// Who waived it. Withheld.
    #[serde(default)]
    pub name: String,
    /// The waiver in the words that were signed or sent. Withheld.
    #[serde(default)]
    pub words: String,
    /// Signature as an SVG path in a box of 600 by 200. Withheld.
    #[serde(default)]
    pub signature: String,
    /// Photos of the paper or the message.
    #[serde(default)]
    pub photos: Vec<Digest>,
}

impl RecordKind for EstimateWaived {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "estimate_waived",
        &[
            Field::public("channel"),
            Field::withheld("name", AGREED),
            Field::withheld("words", AGREED),
            Field::withheld("signature", AGREED),
            Field::public("photos"),
        ],
    )
    .signed();

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }
}
