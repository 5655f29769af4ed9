//! What every room that makes a part of an entered circuit is given.

use crate::entered::entry::Entered;
use crate::entered::modules::Built;
use crate::entered::names::Ids;

/// What an entry and the names of it are made from.
pub(super) struct Making<'e> {
    pub entered: &'e Entered,
    pub ids: &'e Ids,
    pub modules: &'e [Built<'e>],
    /// The module that talks on the bus.
    pub talker: Option<usize>,
}

/// The reading at a point, everything asked for: a module's pins have names of their own. Where pins of two modules share a
/// point, they share the reading.
pub(super) fn volts_id(making: &Making<'_>, point: &str) -> String {
    for module in making.modules {
        for pin in module.pins() {
            if making.ids.point(pin.point) == point {
                let loaded = pin.key.starts_with("output") || pin.key.starts_with("reference");
                let key = if loaded { format!("{}_loaded", pin.key) } else { pin.key.clone() };
                return module.test(&key);
            }
        }
    }
    format!("volts_{point}")
}
