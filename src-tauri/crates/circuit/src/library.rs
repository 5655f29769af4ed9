//! The circuits we ship, as data files: whole ones, and those made from blocks. A new file in the folder `library` is in the
//! list by itself.

use crate::blocks::Composition;
use crate::error::CircuitError;
use crate::file::layout::Circuit;
use crate::routine::complete;

/// File name and text of every circuit, in the order of the names.
const FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/library.rs"));

/// How the file of a circuit made from blocks ends; other files hold the whole circuit.
const BLOCKS: &str = ".blocks.json";

/// Every circuit of the library, in the order of their ids.
///
/// # Errors
/// A file that can't be read or contradicts itself.
pub fn all() -> Result<Vec<Circuit>, CircuitError> {
    let mut all: Vec<Circuit> =
        FILES.iter().map(|(name, text)| read(name, text)).collect::<Result<_, _>>()?;
    all.sort_by(|left, right| left.id.cmp(&right.id));
    Ok(all)
}

/// Name and text of every file, for who wants to check or show them.
#[must_use]
pub const fn files() -> &'static [(&'static str, &'static str)] {
    FILES
}

/// One circuit by its id, which is also its file's name.
///
/// # Errors
/// No such circuit, or its file contradicts itself.
pub fn find(id: &str) -> Result<Circuit, CircuitError> {
    let (name, text) = file(id)?;
    read(name, text)
}

/// The blocks a circuit of the library is made from; nothing where its file holds the whole circuit.
///
/// # Errors
/// No such circuit, or its file contradicts itself.
pub fn blocks(id: &str) -> Result<Option<Composition>, CircuitError> {
    let (name, text) = file(id)?;
    if name.ends_with(BLOCKS) { Composition::from_json(text).map(Some) } else { Ok(None) }
}

fn file(id: &str) -> Result<&'static (&'static str, &'static str), CircuitError> {
    let named = |name: &str| name.strip_suffix(BLOCKS).or_else(|| name.strip_suffix(".json")) == Some(id);
    let unknown = || CircuitError::Unknown { kind: "circuit", id: id.to_owned() };
    FILES.iter().find(|(name, _)| named(name)).ok_or_else(unknown)
}

/// The circuit in a file of the library's kinds, with what every circuit has in common.
///
/// # Errors
/// A file that can't be read or contradicts itself.
pub fn read(name: &str, text: &str) -> Result<Circuit, CircuitError> {
    if name.ends_with(BLOCKS) {
        Composition::from_json(text)?.circuit()
    } else {
        Circuit::from_json(text).map(complete)
    }
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::file::component::{Component, ComponentKind};
    use crate::file::layout::ColorCode;

    #[test]
    fn files_are_named_after_their_circuits_and_pass_the_checker() {
        let mut wrong = Vec::new();
        for (name, text) in files() {
            // What blocks make passes the same check as a file.
            let (ends, text) = if name.ends_with(BLOCKS) {
                (BLOCKS, serde_json::to_string(&read(name, text).unwrap()).unwrap())
            } else {
                (".json", (*text).to_owned())
            };
            match crate::check::check(&text) {
                Ok(circuit) => assert_eq!(*name, format!("{}{ends}", circuit.id)),
                Err(problems) => wrong.extend(problems.iter().map(|problem| format!("{name}: {problem}"))),
            }
        }
        assert!(wrong.is_empty(), "{}", wrong.join("\n"));
    }

    #[test]
    fn completed_circuits_pass_the_checker_and_stay_as_they_are() {
        for circuit in all().unwrap() {
            let text = serde_json::to_string(&circuit).unwrap();
            let problems =
                crate::check::check(&text).map_err(|problems| format!("{}: {problems:?}", circuit.id));
            assert_eq!(complete(problems.unwrap()), circuit);
        }
    }

    #[test]
    fn a_wire_has_one_color_at_both_its_connectors() {
        for circuit in all().unwrap() {
            let pins = || circuit.connectors.iter().flat_map(|connector| &connector.pins);
            for pin in pins() {
                assert_ne!(pin.color, [ColorCode::Vt, ColorCode::Wh], "{}: pin {}", circuit.id, pin.number);
                let ends = |part: &&Component| {
                    let joins = matches!(part.kind, ComponentKind::Wire { .. });
                    joins && part.kind.points().contains(&pin.point.as_str())
                };
                for wire in circuit.components.iter().filter(ends) {
                    let other = pins().find(|other| {
                        other.point != pin.point && wire.kind.points().contains(&other.point.as_str())
                    });
                    let color = other.map_or(&pin.color, |other| &other.color);
                    assert_eq!(*color, pin.color, "{}: {}", circuit.id, wire.id);
                }
            }
        }
    }
}
