use super::RecordKind;
use super::descriptor::{AGREED, Descriptor, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The vehicle went back to the customer.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct HandedOver {
    /// Warranty terms. Withheld.
    #[serde(default)]
    pub warranty: String,
    /// What was done with the old parts. Withheld.
    #[serde(default)]
    pub old_parts: String,
    /// Photos.
    #[serde(default)]
    pub photos: Vec<Digest>,
}

impl RecordKind for HandedOver {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "handed_over",
        &[Field::withheld("warranty", AGREED), Field::withheld("old_parts", AGREED), Field::public("photos")],
    )
    .signed();

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }
}
