use super::*;

/// When everything that is kept was last read and held against its hash and signature.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct CheckView {
    /// Wall time when the last whole check ended; empty before the first.
    pub finished: String,
    /// How many things didn't hold; each is a notice.
    pub found: u32,
    /// Records read, where the check was just made.
    pub records: u32,
    /// Of those, how many no known key signed for.
    pub not_vouched: u32,
    /// Photos and reports read, where the check was just made.
    pub photos: u32,
}
