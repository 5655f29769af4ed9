//! Time from outside: time-stamps of RFC 3161 over the text of a checkpoint.
//!
//! The whole exchange without the network between: [`query`] makes the bytes to send (`POST` to the authority's
//! address as `application/timestamp-query`), [`token_of_reply`] takes the token out of the answer
//! (`application/timestamp-reply`), [`check`] judges it at its own time. The caller keeps the token as a record
//! of kind [`KIND`] whose body is [`TimestampBody`], or, for the last one, beside the log.
//!
//! A time-stamp proves that the text existed by its time, and nothing earlier. Whoever holds the authority's key
//! can state any time: that is why its root must be named from outside.

mod authority;
mod chain;
mod check;
mod error;
mod query;
mod reading;
mod reply;
mod signature;
mod signer;
mod time;
mod token;

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use authority::AuthorityRoot;
pub use check::{Stamp, check};
pub use error::TimestampError;
pub use query::{QUERY_TYPE, REPLY_TYPE, query};
pub use reply::token_of_reply;

use crate::Digest;

/// The kind of record that holds a token.
pub const KIND: &str = "timestamp";

/// The longest a token may be: 64 KiB. Those of authorities have 1 to 10 KiB.
pub const MAX_TOKEN_BYTES: usize = 64 << 10;

/// The public body of a record of kind [`KIND`], exactly these five fields.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct TimestampBody {
    /// The address the authority was asked at.
    pub authority: String,
    /// Size of the checkpoint that was stamped; a checkpoint of the same log, signed before this record.
    pub size: u64,
    /// Root of that checkpoint.
    pub root: Digest,
    /// The number sent with the query, which the token must repeat: 16 lowercase hexadecimal digits.
    pub nonce: String,
    /// The token (`ContentInfo` in DER) in standard base64 with padding.
    pub token: String,
}

impl TimestampBody {
    /// Puts the body together.
    pub fn new(authority: &str, checkpoint: &crate::Checkpoint, nonce: u64, token: &[u8]) -> Self {
        Self {
            authority: authority.to_owned(),
            size: checkpoint.size,
            root: checkpoint.root,
            nonce: format!("{nonce:016x}"),
            token: BASE64.encode(token),
        }
    }

    /// The token's bytes.
    ///
    /// # Errors
    /// [`TimestampError::Malformed`] if the text isn't base64.
    pub fn token_bytes(&self) -> Result<Vec<u8>, TimestampError> {
        BASE64.decode(&self.token).map_err(|_| TimestampError::Malformed("the token is not base64"))
    }

    /// The number sent with the query.
    ///
    /// # Errors
    /// [`TimestampError::Malformed`] if the text isn't 16 hexadecimal digits.
    pub fn nonce_number(&self) -> Result<u64, TimestampError> {
        let number = u64::from_str_radix(&self.nonce, 16).ok();
        let number = number.filter(|number| format!("{number:016x}") == self.nonce);
        number.ok_or(TimestampError::Malformed("the nonce is not 16 hexadecimal digits"))
    }
}
