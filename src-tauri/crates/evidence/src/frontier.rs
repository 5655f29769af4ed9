//! The right edge of the tree: what a growing log must keep to know its root without all its leaves.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{Digest, tree};

/// The roots of the whole subtrees at the right edge, largest first: one per set bit of `size`.
/// Appending and asking for the root each take at most 64 hashes.
#[derive(Clone, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Frontier {
    size: u64,
    peaks: Vec<Digest>,
}

impl Frontier {
    /// Takes up a stored frontier; none if `peaks` doesn't fit `size`.
    pub fn from_parts(size: u64, peaks: Vec<Digest>) -> Option<Self> {
        (peaks.len() == size.count_ones() as usize).then_some(Self { size, peaks })
    }

    /// The frontier over `leaves`.
    pub fn of(leaves: &[Digest]) -> Self {
        let mut frontier = Self::default();
        leaves.iter().for_each(|leaf| frontier.push(*leaf));
        frontier
    }

    /// Appends one leaf hash.
    pub fn push(&mut self, leaf: Digest) {
        let mut hash = leaf;
        for _ in 0..self.size.trailing_ones() {
            if let Some(left) = self.peaks.pop() {
                hash = tree::node(&left, &hash);
            }
        }
        self.peaks.push(hash);
        self.size = self.size.saturating_add(1);
    }

    /// The root over everything appended; equal to [`tree::root`] over the leaves.
    pub fn root(&self) -> Digest {
        let joined = self.peaks.iter().rev().copied().reduce(|right, left| tree::node(&left, &right));
        joined.unwrap_or_else(|| Digest::of(b""))
    }

    /// How many leaves were appended.
    pub fn size(&self) -> u64 {
        self.size
    }

    /// The roots of the whole subtrees, largest first, to be stored.
    pub fn peaks(&self) -> &[Digest] {
        &self.peaks
    }
}
