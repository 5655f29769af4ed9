//! Short names in the circuit made from an entry: of its points and parts, of a relay's state, of the tests that other
//! files speak of.

use std::collections::{BTreeMap, BTreeSet};

use crate::entered::entry::{Entered, EnteredKind};

pub(super) const WORKS: &str = "works";
/// Names of points and parts → short names.
#[derive(Default)]
pub(super) struct Ids {
    points: BTreeMap<String, String>,
    parts: BTreeMap<String, String>,
    used: BTreeSet<String>,
}

impl Ids {
    pub fn of(entered: &Entered) -> Self {
        let mut ids = Self::default();
        for part in &entered.parts {
            for point in part.points() {
                if !ids.points.contains_key(point) {
                    let id = ids.short(point, "point");
                    ids.points.insert(point.to_owned(), id);
                }
            }
        }
        ids.used.clear();
        for part in &entered.parts {
            let id = ids.short(&part.name, "part");
            ids.parts.insert(part.name.trim().to_owned(), id);
        }
        ids
    }

    /// A short name from words: letters and digits of ASCII, the rest as `_`.
    fn short(&mut self, words: &str, otherwise: &str) -> String {
        let plain = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '_' };
        let plain: String = words.trim().chars().map(plain).take(40).collect();
        let plain = plain.trim_matches('_');
        let plain = if plain.is_empty() { otherwise } else { plain };
        let mut id = plain.to_owned();
        let mut number = 2;
        while !self.used.insert(id.clone()) {
            id = format!("{plain}_{number}");
            number += 1;
        }
        id
    }

    pub fn point(&self, name: &str) -> String {
        self.points.get(name.trim()).cloned().unwrap_or_default()
    }

    pub fn part(&self, name: &str) -> String {
        self.parts.get(name.trim()).cloned().unwrap_or_default()
    }
}

/// State variable of a relay: named after its coil.
pub(super) fn variable_of(relay: &str, ids: &Ids, entered: &Entered) -> String {
    format!("relay_{}", coil_of(relay, ids, entered))
}

pub(super) fn coil_of(relay: &str, ids: &Ids, entered: &Entered) -> String {
    let coil = entered.parts.iter().find(|part| {
        matches!(&part.kind, EnteredKind::RelayCoil { relay: name, .. } if name.trim() == relay.trim())
    });
    coil.map(|part| ids.part(&part.name)).unwrap_or_default()
}
