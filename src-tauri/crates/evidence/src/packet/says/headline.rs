//! The first line of a verdict. It says what a check by bytes proves and never more.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::Said;

/// The first line.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(tag = "says", rename_all = "snake_case")]
pub enum Headline {
    /// Something doesn't fit.
    #[default]
    Refused,
    /// Everything fits: nothing was changed since these keys signed it.
    Unchanged {
        /// The keys that signed here, by log and in order.
        signers: Vec<Signer>,
    },
}

/// A key that signed.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Signer {
    /// The device whose log it signed.
    pub device: String,
    /// SHA-256 of the public key.
    pub fingerprint: String,
    /// The same in words.
    pub words: String,
}

impl Headline {
    /// Its words.
    pub fn said(&self) -> Said {
        let Self::Unchanged { signers } = self else {
            return Said::new("BAD: do not rely on this packet.", "INCORRECTO: no se fíe de este paquete.");
        };
        match signers.as_slice() {
            [one] => {
                let key = format!("\"{}\" (SHA-256 {})", one.words, one.fingerprint);
                Said::new(
                    format!("Unchanged since this key sealed it: {key}."),
                    format!("Sin cambios desde que lo selló esta clave: {key}."),
                )
            }
            several => {
                let key = |signer: &Signer| {
                    format!("{} \"{}\" (SHA-256 {})", signer.device, signer.words, signer.fingerprint)
                };
                let keys = several.iter().map(key).collect::<Vec<_>>().join("; ");
                Said::new(
                    format!("Unchanged since these keys sealed it: {keys}."),
                    format!("Sin cambios desde que lo sellaron estas claves: {keys}."),
                )
            }
        }
    }
}
