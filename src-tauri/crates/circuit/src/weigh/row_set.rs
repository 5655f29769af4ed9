//! A set of rows, by their places. Any number of readings goes in: none may leave a check for contradictions unseen.

/// Rows in one word.
const WORD: usize = 128;

/// Rows by their places.
#[derive(Debug, Clone, Default, PartialEq, Eq)]
pub(crate) struct RowSet {
    /// The first rows, apart from the others: a job with more of them is rare, and one without needs no list.
    first: u128,
    further: Vec<u128>,
}

impl RowSet {
    pub fn insert(&mut self, row: usize) {
        let bit = 1 << (row % WORD);
        let Some(word) = (row / WORD).checked_sub(1) else {
            self.first |= bit;
            return;
        };
        if self.further.len() <= word {
            self.further.resize(word + 1, 0);
        }
        self.further.iter_mut().skip(word).take(1).for_each(|bits| *bits |= bit);
    }

    pub fn contains(&self, row: usize) -> bool {
        let bits = self.words().nth(row / WORD).unwrap_or(0);
        bits & (1 << (row % WORD)) != 0
    }

    pub fn is_empty(&self) -> bool {
        self.words().all(|bits| bits == 0)
    }

    /// Number of rows.
    pub fn len(&self) -> usize {
        self.missing_from(&Self::default())
    }

    /// How many of its rows the other one lacks.
    pub fn missing_from(&self, other: &Self) -> usize {
        let theirs = other.words().chain(std::iter::repeat(0));
        let count = |(own, theirs): (u128, u128)| (own & !theirs).count_ones();
        usize::try_from(self.words().zip(theirs).map(count).sum::<u32>()).unwrap_or(usize::MAX)
    }

    /// Are all rows of the other one in it?
    pub fn contains_all(&self, other: &Self) -> bool {
        let own = self.words().chain(std::iter::repeat(0));
        other.words().zip(own).all(|(wanted, bits)| wanted & !bits == 0)
    }

    fn words(&self) -> impl Iterator<Item = u128> {
        std::iter::once(self.first).chain(self.further.iter().copied())
    }
}

impl FromIterator<usize> for RowSet {
    fn from_iter<I: IntoIterator<Item = usize>>(rows: I) -> Self {
        let mut set = Self::default();
        rows.into_iter().for_each(|row| set.insert(row));
        set
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn rows_beyond_a_word_are_held_and_compared() {
        let rows = [0, 127, 128, 255, 256, 1000];
        let set: RowSet = rows.into_iter().collect();
        for row in 0..1200 {
            assert_eq!(set.contains(row), rows.contains(&row), "{row}");
        }
        let fewer: RowSet = [0, 256].into_iter().collect();
        let other: RowSet = [0, 257].into_iter().collect();
        assert!(set.contains_all(&fewer) && !fewer.contains_all(&set) && !set.contains_all(&other));
        assert!(set.contains_all(&RowSet::default()) && !RowSet::default().contains_all(&fewer));
        assert_eq!((set.len(), set.missing_from(&fewer), fewer.missing_from(&other)), (6, 4, 1));
        assert!(RowSet::default().is_empty() && !set.is_empty());
    }
}
