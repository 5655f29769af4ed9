//! Originals that the shop says it no longer has. Leaving a photo out of a packet needs no word; losing one does, or a reader
//! takes the one for the other.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::Digest;

/// The kind of record that names them; its public body is [`Missing`], its wall time is when it was noticed.
pub const KIND: &str = "photo_missing";

/// The public body of a record of kind [`KIND`].
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Missing {
    /// One or more photos.
    pub missing: Vec<MissingPhoto>,
}

/// A photo that a record of the job names and whose original isn't at hand any more. What was found in its place may stand
/// beside this field.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct MissingPhoto {
    /// SHA-256 of the original.
    pub original: Digest,
}
