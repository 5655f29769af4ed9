use super::RecordKind;
use super::descriptor::{Descriptor, Field, JUDGES, MEASURED};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// What was found at a pin.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct PinNoted {
    /// Connector id of the circuit.
    pub connector: String,
    /// Pin number as printed on the face.
    pub pin: String,
    /// Wire colour by IEC 60757.
    #[serde(default)]
    pub colour: String,
    /// Function as noted. Withheld.
    #[serde(default)]
    pub function: String,
    /// Note of earlier work. Withheld.
    #[serde(default)]
    pub note: String,
    /// It isn't known for certain what the pin carries.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub in_doubt: bool,
    /// Photos.
    #[serde(default)]
    pub photos: Vec<Digest>,
}

impl RecordKind for PinNoted {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "pin_noted",
        &[
            Field::public("connector"),
            Field::public("pin"),
            Field::public("colour"),
            Field::withheld("function", MEASURED),
            Field::withheld("note", JUDGES),
            Field::public("in_doubt"),
            Field::public("photos"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }
}
