//! From a plan and what is known to places in px: heights, and folding until it fits.

pub(crate) mod across;
pub(crate) mod boxes;
mod capsule;
mod dense;
mod fold;
pub(crate) mod heights;
mod homes;
pub(crate) mod hosts;
pub(crate) mod item;
mod on_run;
mod pack;
mod rows;
mod stubs;

pub(crate) use fold::fitted;

use std::collections::{BTreeMap, BTreeSet};

use item::Item;

/// A box on the sheet.
#[derive(Debug, Clone, Copy, PartialEq, Default)]
pub(crate) struct Rect {
    pub x: f64,
    pub y: f64,
    pub width: f64,
    pub height: f64,
}

impl Rect {
    pub fn right(self) -> f64 {
        self.x + self.width
    }

    pub fn bottom(self) -> f64 {
        self.y + self.height
    }

    pub fn middle(self) -> (f64, f64) {
        (self.x + self.width / 2.0, self.y + self.height / 2.0)
    }

    /// Width and height of what two share; at most one of them is above zero where they don't touch.
    pub fn shared(self, other: Self) -> (f64, f64) {
        (
            self.right().min(other.right()) - self.x.max(other.x),
            self.bottom().min(other.bottom()) - self.y.max(other.y),
        )
    }
}

/// Where everything goes before texts and discs find their places.
#[derive(Debug, Clone, Default)]
pub(crate) struct Layout {
    pub width: f64,
    pub height: f64,
    pub folded: u32,
    /// Middle of each column.
    pub columns: Vec<f64>,
    /// Height of each bar, upper edge of each box.
    pub y: BTreeMap<usize, f64>,
    pub boxes: BTreeMap<usize, Rect>,
    /// What is drawn of each strand.
    pub items: BTreeMap<usize, Vec<Item>>,
    /// Strands that are folded away.
    pub stubs: BTreeSet<usize>,
    /// Row of what lies on a rail, if it is drawn; and how far it lies from the bus.
    pub top_row: Option<(Vec<Item>, f64)>,
    pub bottom_row: Option<(Vec<Item>, f64)>,
    /// The one suspect of a rail that is drawn as a bar.
    pub top_disc: Option<Item>,
    pub bottom_disc: Option<Item>,
    /// Depth below the boxes of wires between two relays.
    pub below: BTreeMap<usize, f64>,
}
