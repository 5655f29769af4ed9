//! Values that may be withheld, in the manner of RFC 9901: the record holds only a salted digest of each.
//!
//! Different from RFC 9901 in one point: the record holds the digest in hexadecimal, so that `sha256sum`
//! over the file of a disclosure prints what stands in the record.

use std::borrow::Cow;

use base64::Engine as _;
use base64::prelude::BASE64_URL_SAFE_NO_PAD as BASE64URL;
use schemars::{JsonSchema, Schema, SchemaGenerator, json_schema};
use serde::{Deserialize, Serialize};
use serde_json::{Value, json};

use crate::{Digest, EvidenceError, canonical};

/// One value with its name and 128-bit salt: base64url of the JSON array `[salt, name, value]`
/// (RFC 9901 section 4.2.1). In JSON: that text.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize)]
#[serde(try_from = "String", into = "String")]
pub struct Disclosure {
    encoded: String,
    name: String,
    value: Value,
}

impl Disclosure {
    /// Puts salt, name and value together. `salt` must be random and never used before.
    ///
    /// # Errors
    /// An empty name, a name that isn't ASCII, and numbers that aren't exact integers.
    pub fn new(salt: [u8; 16], name: &str, value: Value) -> Result<Self, EvidenceError> {
        let array = canonical::bytes(&json!([BASE64URL.encode(salt), name, value]))?;
        Self::parse(&BASE64URL.encode(array))
    }

    /// Reads the base64url text.
    ///
    /// # Errors
    /// [`EvidenceError::BadDisclosure`] for anything [`Disclosure::new`] wouldn't have written.
    pub fn parse(encoded: &str) -> Result<Self, EvidenceError> {
        let bad = EvidenceError::BadDisclosure;
        let array = BASE64URL.decode(encoded).map_err(|_| bad("it is not base64url without padding"))?;
        let Value::Array(parts) = canonical::parse(&array)? else {
            return Err(bad("it is not a JSON array"));
        };
        let Ok([Value::String(salt), Value::String(name), value]) = <[Value; 3]>::try_from(parts) else {
            return Err(bad("it is not salt, name and value"));
        };
        let salt = BASE64URL.decode(salt).map_err(|_| bad("its salt is not base64url"))?;
        if salt.len() != 16 || name.is_empty() || !name.is_ascii() {
            return Err(bad("its salt is not 16 bytes or its name is not ASCII"));
        }
        Ok(Self { encoded: encoded.to_owned(), name, value })
    }

    /// The base64url text; the exact content of the disclosure's file in a packet.
    pub fn encoded(&self) -> &str {
        &self.encoded
    }

    /// SHA-256 over the ASCII of the encoded text; this stands in the record.
    pub fn digest(&self) -> Digest {
        Digest::of(self.encoded.as_bytes())
    }

    /// What the value is called.
    pub fn name(&self) -> &str {
        &self.name
    }

    /// The value.
    pub fn value(&self) -> &Value {
        &self.value
    }
}

impl TryFrom<String> for Disclosure {
    type Error = EvidenceError;

    fn try_from(encoded: String) -> Result<Self, EvidenceError> {
        Self::parse(&encoded)
    }
}

impl From<Disclosure> for String {
    fn from(disclosure: Disclosure) -> Self {
        disclosure.encoded
    }
}

impl JsonSchema for Disclosure {
    fn schema_name() -> Cow<'static, str> {
        "Disclosure".into()
    }

    fn json_schema(_: &mut SchemaGenerator) -> Schema {
        json_schema!({ "type": "string", "pattern": "^[A-Za-z0-9_-]+$" })
    }
}
