//! Loads that stick or burn, and parts that somebody else fitted.

use std::collections::BTreeSet;

use circuit::{Component, ComponentKind, FaultMode};

use super::dice::Dice;
use super::emit;
use super::harm::Edit;
use super::hidden::{Hidden, Truth, Yard};
use super::settle::{Bench, Meter};
use super::truth;

fn fitted(part: &str, kind: ComponentKind) -> Edit {
    Edit::Fitted { part: part.to_owned(), kind: Box::new(kind) }
}

/// The part as this vehicle has it.
fn own<'a>(yard: &'a Yard, id: &str) -> Option<&'a ComponentKind> {
    yard.vehicle.part(id).map(|part| &part.kind)
}

/// A load that stands still with the current of one that stands still, or has burnt together.
pub fn stuck_load(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let loads: Vec<&Component> = yard
        .circuit
        .components
        .iter()
        .filter(|part| matches!(part.kind, ComponentKind::Motor { .. } | ComponentKind::Coil { .. }))
        .filter(|part| !part.faults.is_empty() && !yard.is_inside(&part.id))
        .collect();
    let load = *dice.pick(&loads)?;
    let mut kind = own(yard, &load.id)?.clone();
    if dice.chance(0.6) {
        if let ComponentKind::Motor { ohms, stalled_ohms, .. } = &mut kind {
            let standing = stalled_ohms.unwrap_or(*ohms * dice.between(0.22, 0.7));
            *stalled_ohms = Some(standing);
        }
        let edits = vec![fitted(&load.id, kind), Edit::Jammed(load.id.clone())];
        let causes = yard.listed(&load.id, FaultMode::Jammed);
        let hidden = Hidden { edits, ..Hidden::default() };
        return Some(Truth {
            causes,
            ..Truth::outside(hidden, format!("{} is mechanically stuck", load.id))
        });
    }
    let factor = dice.between(0.02, 0.5);
    let causes = [FaultMode::DrawsTooMuch, FaultMode::ShortAcross]
        .iter()
        .flat_map(|mode| yard.listed(&load.id, *mode))
        .take(1)
        .collect();
    let hidden = Hidden { edits: vec![Edit::Draws { part: load.id.clone(), factor }], ..Hidden::default() };
    let note = format!("{} burnt to {factor:.2} of its ohms", load.id);
    Some(Truth { causes, ..Truth::outside(hidden, note) })
}

/// Another relay than the maker's.
pub fn wrong_relay(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let contacts: Vec<(&Component, &str)> = yard
        .circuit
        .components
        .iter()
        .filter(|part| !part.faults.is_empty())
        .filter_map(|part| match &part.kind {
            ComponentKind::Contact { coil, .. } => Some((part, coil.as_str())),
            _ => None,
        })
        .collect();
    let (contact, coil) = *dice.pick(&contacts)?;
    let (mut coil_kind, mut contact_kind) = (own(yard, coil)?.clone(), own(yard, &contact.id)?.clone());
    let ComponentKind::Coil { from, to, ohms, pull_in_volts, drop_out_volts } = &mut coil_kind else {
        return None;
    };
    let (first, second) = (from.clone(), to.clone());
    let mut causes = Vec::new();
    let mut edits = Vec::new();
    let note = match dice.index(4) {
        0 => {
            *ohms *= dice.between(2.8, 4.5);
            *pull_in_volts *= dice.between(1.8, 2.1);
            *drop_out_volts *= 1.8;
            "24 V relay"
        }
        1 => {
            let factor = dice.between(0.12, 0.6);
            *ohms *= factor;
            causes = yard.listed(coil, FaultMode::DrawsTooMuch);
            "relay with a heavy coil"
        }
        2 => {
            if let ComponentKind::Contact { closed_at_rest, .. } = &mut contact_kind {
                *closed_at_rest = !*closed_at_rest;
            }
            "relay with a break contact"
        }
        _ => {
            // Its diode lies the right way round for another vehicle's socket: it shorts the coil when driven.
            let when =
                yard.circuit.components.iter().find(|part| part.id == contact.id)?.present_when.clone();
            edits.push(Edit::Path { from: first, to: second, ohms: dice.log_between(0.2, 2.0), when });
            "relay with its diode the wrong way round"
        }
    };
    edits.extend([fitted(coil, coil_kind), fitted(&contact.id, contact_kind)]);
    Some(Truth {
        causes,
        ..Truth::outside(Hidden { edits, ..Hidden::default() }, format!("{note} at {coil}"))
    })
}

/// A fuse, bulb, resistor or sensor of another rating.
pub fn wrong_part(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let parts: Vec<&Component> = yard
        .circuit
        .components
        .iter()
        .filter(|part| !part.faults.is_empty() && !yard.is_inside(&part.id))
        .filter(|part| {
            matches!(
                part.kind,
                ComponentKind::Fuse { .. }
                    | ComponentKind::Lamp { .. }
                    | ComponentKind::Resistor { .. }
                    | ComponentKind::Thermistor { .. }
                    | ComponentKind::Motor { .. }
            )
        })
        .collect();
    let part = *dice.pick(&parts)?;
    let mut kind = own(yard, &part.id)?.clone();
    // One way or the other.
    let factor = if dice.chance(0.5) { dice.between(0.2, 0.6) } else { dice.between(1.7, 6.0) };
    let mut modes = if factor > 1.0 {
        vec![FaultMode::HighResistance]
    } else {
        vec![FaultMode::DrawsTooMuch, FaultMode::ShortAcross]
    };
    match &mut kind {
        ComponentKind::Fuse { rating_amps, ohms, .. } => {
            let weaker = dice.between(0.08, 0.35);
            *rating_amps *= weaker;
            *ohms /= weaker;
            modes = vec![FaultMode::Open];
        }
        ComponentKind::Lamp { ohms, cold_ohms, .. } => {
            *ohms *= factor;
            cold_ohms.iter_mut().for_each(|cold| *cold *= factor);
        }
        ComponentKind::Motor { ohms, stalled_ohms, .. } => {
            *ohms *= factor;
            stalled_ohms.iter_mut().for_each(|standing| *standing *= factor);
        }
        ComponentKind::Resistor { ohms, .. } => *ohms *= factor,
        ComponentKind::Thermistor { ohms_25, beta_kelvin, .. } => {
            *ohms_25 *= factor;
            *beta_kelvin *= dice.between(0.85, 1.2);
        }
        _ => return None,
    }
    // The part is the cause, under the name that the file has for what it does.
    let causes = modes.iter().flat_map(|mode| yard.listed(&part.id, *mode)).take(1).collect();
    let hidden = Hidden { edits: vec![fitted(&part.id, kind)], ..Hidden::default() };
    Some(Truth { causes, ..Truth::outside(hidden, format!("{} is of another rating", part.id)) })
}

/// Something tapped into a feed: the tap has hurt the wire, and what hangs on it draws.
pub fn accessory(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let wires: Vec<&Component> = yard
        .circuit
        .components
        .iter()
        .filter(|part| matches!(part.kind, ComponentKind::Wire { .. }) && !part.faults.is_empty())
        .collect();
    let wire = *dice.pick(&wires)?;
    let tapped = fed_end(yard, wire)?;
    let (ohms, load) = (dice.log_between(0.05, 60.0), dice.log_between(0.8, 40.0));
    let hung_on = Edit::path(&tapped, &yard.circuit.reference, load);
    let tap = Edit::Series { part: wire.id.clone(), ohms };
    let note = format!("accessory of {load:.1} ohm tapped into {}, tap {ohms:.2} ohm", wire.id);
    // Where it does the harm with a good tap, no wire is the cause.
    let mut without_tap = Bench::new(yard.vehicle.with([&hung_on]), BTreeSet::new());
    let by_load = truth::complains(yard.circuit, &mut without_tap).ok()?;
    let causes = if by_load { Vec::new() } else { yard.listed(&wire.id, FaultMode::HighResistance) };
    let edits = vec![tap, hung_on];
    Some(Truth { causes, ..Truth::outside(Hidden { edits, ..Hidden::default() }, note) })
}

/// The end of a wire at which an accessory finds battery volts while the complaint's function is asked for.
fn fed_end(yard: &Yard, wire: &Component) -> Option<String> {
    let test = truth::complaint_test(yard.circuit).ok()?;
    let settled =
        Bench::new(yard.vehicle.clone(), BTreeSet::new()).settle(&test.state, None, &Meter::None).ok()?;
    let volts = |end: &String| settled.solution.between(end, &yard.circuit.reference);
    emit::ends(&wire.kind).into_iter().rev().find(|end| volts(end) > 9.0)
}
