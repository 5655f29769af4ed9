//! Names in the drawing, by the ids that parts have in every circuit of blocks.

use std::collections::BTreeMap;

use serde::Deserialize;

use crate::error::CircuitError;
use crate::file::layout::Circuit;
use crate::file::text::Text;

/// Labels of parts and modules.
#[derive(Debug, Deserialize)]
#[serde(deny_unknown_fields)]
struct Labels {
    /// By the whole id.
    named: BTreeMap<String, Text>,
    /// By how an id begins; the longest counts.
    beginning: BTreeMap<String, Text>,
}

impl Labels {
    fn of(&self, id: &str) -> Option<Text> {
        let begins = self.beginning.iter().filter(|(beginning, _)| id.starts_with(beginning.as_str()));
        let longest = || begins.max_by_key(|(beginning, _)| beginning.len()).map(|(_, label)| label);
        self.named.get(id).or_else(longest).cloned()
    }
}

/// A circuit of blocks with its labels, but for the parts of a load that isn't listed: it keeps its own words.
///
/// # Errors
/// A list that can't be read: a mistake in our own data.
pub(super) fn labeled(mut circuit: Circuit, own: &[String]) -> Result<Circuit, CircuitError> {
    let unreadable = |error| CircuitError::Unreadable(format!("list of labels: {error}"));
    let labels: Labels = serde_json::from_str(include_str!("labels.json")).map_err(unreadable)?;
    for part in &mut circuit.components {
        part.label = labels.of(&part.id).filter(|_| !own.contains(&part.id));
    }
    for module in &mut circuit.modules {
        module.label = labels.named.get(&module.id).cloned();
    }
    Ok(circuit)
}

#[cfg(test)]
mod tests {
    use crate::library;

    /// Every part and module of the library has a label, blocks or not.
    #[test]
    fn nothing_of_the_library_goes_without() {
        for circuit in library::all().unwrap() {
            let parts = circuit.components.iter().map(|part| (&part.id, &part.label));
            let modules = circuit.modules.iter().map(|module| (&module.id, &module.label));
            let bare: Vec<&String> =
                parts.chain(modules).filter(|(_, label)| label.is_none()).map(|(id, _)| id).collect();
            assert!(bare.is_empty(), "{}: {bare:?}", circuit.id);
        }
    }
}
