//! Folding, step by step, until the drawing fits.

use super::Layout;
use super::heights::{Rest, layout};
use super::item::Given;
use super::pack::Step;
use crate::known::Known;
use crate::sheet::Sheet;

/// Height of the drawing's panel.
pub(crate) const FITS: f64 = 420.0;

const STEPS: [Step; 12] = [
    Step { level: 0, free: false },
    Step { level: 1, free: false },
    Step { level: 1, free: true },
    Step { level: 2, free: false },
    Step { level: 2, free: true },
    Step { level: 3, free: true },
    Step { level: 4, free: false },
    Step { level: 4, free: true },
    Step { level: 5, free: true },
    Step { level: 6, free: false },
    Step { level: 6, free: true },
    Step { level: 7, free: true },
];

/// The least folded layout that fits, else the lowest. State alone decides, never the key: a reading of another position takes the
/// same room.
pub(crate) fn fitted(sheet: &Sheet, given: Given<'_>, width: f64) -> Layout {
    let nothing = Known::nothing(&sheet.graph.net);
    let empty = Given { known: &nothing, hosts: &[], ..given };
    let rest = layout(sheet, empty, width, Step { level: 1, free: true }, None);
    let top = rest.y.get(&sheet.graph.top_hub).copied().unwrap_or(0.0);
    let rest: Rest = (rest.y, top);
    let mut best: Option<Layout> = None;
    for step in STEPS {
        let one = layout(sheet, given, width, step, Some(&rest));
        if one.height <= FITS {
            return one;
        }
        if best.as_ref().is_none_or(|best| one.height < best.height - 4.0) {
            best = Some(one);
        }
    }
    best.unwrap_or_default()
}
