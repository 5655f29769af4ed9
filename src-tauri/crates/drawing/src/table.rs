//! A list whose places are numbers that this crate made itself.

use std::ops::{Index, IndexMut};

/// A list that answers for any place: where there is none, with an empty entry, so that a slip here draws something odd and
/// stops nothing.
#[derive(Debug, Clone, Default)]
pub struct Table<T> {
    items: Vec<T>,
    none: T,
}

impl<T> Table<T> {
    pub fn push(&mut self, item: T) -> usize {
        self.items.push(item);
        self.items.len().saturating_sub(1)
    }

    pub fn len(&self) -> usize {
        self.items.len()
    }

    pub fn places(&self) -> std::ops::Range<usize> {
        0..self.items.len()
    }

    pub fn iter(&self) -> std::slice::Iter<'_, T> {
        self.items.iter()
    }
}

impl<T: Clone + Default> Table<T> {
    pub fn filled(item: &T, many: usize) -> Self {
        Self { items: vec![item.clone(); many], none: T::default() }
    }
}

impl<T: Default> From<Vec<T>> for Table<T> {
    fn from(items: Vec<T>) -> Self {
        Self { items, none: T::default() }
    }
}

impl<T> Index<usize> for Table<T> {
    type Output = T;

    fn index(&self, place: usize) -> &T {
        self.items.get(place).unwrap_or(&self.none)
    }
}

impl<T> IndexMut<usize> for Table<T> {
    fn index_mut(&mut self, place: usize) -> &mut T {
        match self.items.get_mut(place) {
            Some(item) => item,
            None => &mut self.none,
        }
    }
}
