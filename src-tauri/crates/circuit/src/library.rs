//! The circuits we ship, as data files. A new file in the folder `library` is in the list by itself.

use crate::error::CircuitError;
use crate::file::layout::Circuit;
use crate::routine::complete;

/// File name and text of every circuit, in the order of the names.
const FILES: &[(&str, &str)] = include!(concat!(env!("OUT_DIR"), "/library.rs"));

/// Every circuit of the library, in the order of their ids.
///
/// # Errors
/// A file that can't be read or contradicts itself.
pub fn all() -> Result<Vec<Circuit>, CircuitError> {
    FILES.iter().map(|(_, text)| Circuit::from_json(text).map(complete)).collect()
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
    let file = FILES.iter().find(|(name, _)| name.strip_suffix(".json") == Some(id));
    let (_, text) = file.ok_or_else(|| CircuitError::Unknown { kind: "circuit", id: id.to_owned() })?;
    Circuit::from_json(text).map(complete)
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
            match crate::check::check(text) {
                Ok(circuit) => assert_eq!(*name, format!("{}.json", circuit.id)),
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
