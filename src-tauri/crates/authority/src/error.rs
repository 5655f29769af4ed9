//! Why no answer came.

use thiserror::Error;

/// Why an authority gave no answer that could be looked at. The question can be asked again later in every case
/// but [`AskError::Address`].
#[derive(Debug, Clone, PartialEq, Eq, Error)]
#[non_exhaustive]
pub enum AskError {
    /// The address has no form that can be asked.
    #[error("{0:?} is no address of an authority: it starts with https:// or http:// and holds no spaces")]
    Address(String),
    /// No way to the authority: no network, unknown name, nobody listens.
    #[error(
        "the authority can't be reached ({0}): check the network and the address; it is tried again later"
    )]
    Unreachable(String),
    /// It took too long.
    #[error("the authority did not answer in time: it is tried again later")]
    TooSlow,
    /// The encrypted way could not be set up: certificate of the server, protocol.
    #[error("no safe connection to the authority ({0}): check its address and this device's date")]
    Unsafe(String),
    /// The server answered with an error of the web.
    #[error(
        "the authority's server refused the question (HTTP {0}): check the address, or ask the authority"
    )]
    Status(u16),
    /// What came is no time-stamp answer.
    #[error("what came from that address is no time-stamp answer ({0}): check the address")]
    NotAnAnswer(String),
    /// The answer is longer than any time-stamp.
    #[error("the answer is longer than {0} bytes: check the address")]
    TooLong(u64),
}

impl AskError {
    /// True when nobody was there to answer: the next question to the same address would wait as long in vain.
    #[must_use]
    pub fn nobody_there(&self) -> bool {
        matches!(self, Self::TooSlow | Self::Unreachable(_))
    }
}
