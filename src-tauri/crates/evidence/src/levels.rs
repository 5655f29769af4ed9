//! A log's tree with every whole subtree kept: a root or proof at any size then takes a few hashes, not all of them.

use crate::{Digest, tree};

/// The leaf hashes and, level by level, the roots of all whole subtrees over them; twice the memory of the leaves.
/// Every answer equals that of the functions of [`tree`], which work it out from the leaves.
#[derive(Clone, Debug, Default, PartialEq, Eq)]
pub struct Levels {
    /// `levels[k][i]` is the root over the leaves from `i * 2^k` up to `(i + 1) * 2^k`.
    levels: Vec<Vec<Digest>>,
}

impl Levels {
    /// The tree over `leaves`.
    pub fn of(leaves: &[Digest]) -> Self {
        let mut levels = Self::default();
        leaves.iter().for_each(|leaf| levels.push(*leaf));
        levels
    }

    /// Appends one leaf hash.
    pub fn push(&mut self, leaf: Digest) {
        let mut hash = Some(leaf);
        let mut level = 0;
        while let Some(next) = hash.take() {
            if self.levels.len() == level {
                self.levels.push(Vec::new());
            }
            let Some(row) = self.levels.get_mut(level) else { return };
            let left = if row.len() % 2 == 1 { row.last().copied() } else { None };
            row.push(next);
            hash = left.map(|left| tree::node(&left, &next));
            level += 1;
        }
    }

    /// How many leaves.
    pub fn size(&self) -> u64 {
        self.leaves().len() as u64
    }

    /// The leaf hashes in order.
    pub fn leaves(&self) -> &[Digest] {
        self.levels.first().map(Vec::as_slice).unwrap_or_default()
    }

    /// The leaf hashes alone.
    pub fn into_leaves(self) -> Vec<Digest> {
        self.levels.into_iter().next().unwrap_or_default()
    }

    /// The root over the first `size` leaves; none if there are fewer.
    pub fn root_at(&self, size: u64) -> Option<Digest> {
        let size = self.within(size)?;
        if size == 0 { Some(tree::root(&[])) } else { self.over(0, size) }
    }

    /// The audit path of leaf `index` in the tree of the first `size` leaves, as [`tree::inclusion_proof`].
    pub fn inclusion_proof(&self, index: u64, size: u64) -> Option<Vec<Digest>> {
        let size = self.within(size)?;
        let index = usize::try_from(index).ok().filter(|index| *index < size)?;
        let (mut from, mut to, mut path) = (0, size, Vec::new());
        while to - from > 1 {
            let middle = from + split(to - from);
            if index < middle {
                path.push(self.over(middle, to)?);
                to = middle;
            } else {
                path.push(self.over(from, middle)?);
                from = middle;
            }
        }
        path.reverse();
        Some(path)
    }

    /// The proof that the first `old` leaves are unchanged in the first `size`, as [`tree::consistency_proof`].
    pub fn consistency_proof(&self, old: u64, size: u64) -> Option<Vec<Digest>> {
        let size = self.within(size)?;
        let old = usize::try_from(old).ok().filter(|old| *old <= size)?;
        if old == 0 || old == size {
            return Some(Vec::new());
        }
        let (mut from, mut to, mut path) = (0, size, Vec::new());
        // Down to the subtree that ends where the old tree did (RFC 6962 section 2.1.2).
        while to != old {
            let middle = from + split(to - from);
            if old <= middle {
                path.push(self.over(middle, to)?);
                to = middle;
            } else {
                path.push(self.over(from, middle)?);
                from = middle;
            }
        }
        if from > 0 {
            path.push(self.over(from, to)?);
        }
        path.reverse();
        Some(path)
    }

    fn within(&self, size: u64) -> Option<usize> {
        usize::try_from(size).ok().filter(|size| *size <= self.leaves().len())
    }

    /// The root over the leaves `from..to`, where `from` is a multiple of the whole subtrees below.
    fn over(&self, from: usize, to: usize) -> Option<Digest> {
        let length = to - from;
        if length.is_power_of_two() {
            let level = length.trailing_zeros() as usize;
            return self.levels.get(level)?.get(from >> level).copied();
        }
        let middle = from + split(length);
        Some(tree::node(&self.over(from, middle)?, &self.over(middle, to)?))
    }
}

/// The largest power of two below `length`, which must be 2 or more.
fn split(length: usize) -> usize {
    length.next_power_of_two() >> 1
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_root_and_proof_is_that_of_the_leaves() {
        let leaves: Vec<_> = (0..67_u8).map(|byte| tree::leaf(&[byte])).collect();
        let levels = Levels::of(&leaves);
        assert_eq!(levels.leaves(), leaves);
        for size in 0..=leaves.len() {
            let (some, n) = (&leaves[..size], size as u64);
            assert_eq!(levels.root_at(n), Some(tree::root(some)), "{size}");
            for other in 0..=n + 1 {
                assert_eq!(
                    levels.inclusion_proof(other, n),
                    tree::inclusion_proof(other, some),
                    "{other} of {size}"
                );
                assert_eq!(
                    levels.consistency_proof(other, n),
                    tree::consistency_proof(other, some),
                    "{other} to {size}"
                );
            }
        }
        assert_eq!((levels.root_at(68), levels.inclusion_proof(0, 68)), (None, None));
    }
}
