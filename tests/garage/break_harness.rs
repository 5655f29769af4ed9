//! Wires, splices, connectors and grounds, as weather and earlier repairs leave them.

use circuit::{Component, ComponentKind, Conditions, Connector, FaultMode, Pin};

use super::break_file::{self, Range, feed};
use super::dice::Dice;
use super::emit;
use super::harm::Edit;
use super::hidden::{Hidden, Rhythm, Truth, Yard};

const fn is_joint(kind: &ComponentKind) -> bool {
    matches!(kind, ComponentKind::Wire { .. } | ComponentKind::Connection { .. } | ComponentKind::Fuse { .. })
}

/// Part of the vehicle in all states, but for the fuse that a test takes out.
fn stays_in(part: &Component) -> bool {
    part.present_when.is_empty() || matches!(part.kind, ComponentKind::Fuse { .. })
}

fn touches(part: &Component, point: &str) -> bool {
    emit::ends(&part.kind).iter().any(|end| end == point)
}

/// A splice gone green: everything on its one side gets its current through a resistance.
pub fn corroded_splice(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    // Terminals and test leads plug into a wire's end: that is no splice.
    let outside: Vec<&Component> =
        yard.circuit.components.iter().filter(|part| !yard.is_inside(&part.id) && stays_in(part)).collect();
    let splices: Vec<(&str, Vec<&Component>)> = yard
        .circuit
        .points
        .iter()
        .filter(|point| point.reachable && point.id != yard.circuit.reference)
        .map(|point| {
            let at = outside.iter().copied().filter(|part| touches(part, &point.id)).collect();
            (point.id.as_str(), at)
        })
        .filter(|(_, parts): &(_, Vec<&Component>)| {
            parts.len() >= 3 && parts.iter().filter(|part| is_joint(&part.kind)).count() >= 2
        })
        .collect();
    let (point, parts) = dice.pick(&splices)?;
    let stays = dice.index(parts.len());
    let moved: Vec<&Component> =
        parts.iter().enumerate().filter(|(place, _)| *place != stays).map(|(_, part)| *part).collect();
    // One of the branches may have been crimped well.
    let spared = (moved.len() > 2 && dice.chance(0.5)).then(|| dice.index(moved.len()));
    let moved: Vec<String> = moved
        .iter()
        .enumerate()
        .filter(|(place, _)| Some(*place) != spared)
        .map(|(_, part)| part.id.clone())
        .collect();
    let ohms = dice.log_between(0.15, 2e3);
    let note = format!("splice at {point} has {ohms:.2} ohm towards {}", moved.join(", "));
    let split = Edit::Split {
        point: (*point).to_owned(),
        parts: moved,
        name: "behind:splice".to_owned(),
        ohms: Some(ohms),
    };
    Some(Truth::outside(Hidden { edits: vec![split], ..Hidden::default() }, note))
}

fn neighbors(connector: &Connector) -> Vec<(&Pin, &Pin)> {
    let mut pairs = Vec::new();
    for (place, one) in connector.pins.iter().enumerate() {
        for other in connector.pins.iter().skip(place + 1) {
            let apart = (one.x - other.x).hypot(one.y - other.y);
            if apart < 1.6 && one.point != other.point {
                pairs.push((one, other));
            }
        }
    }
    pairs
}

/// Salt water between the pins of a connector: it conducts, and it eats.
pub fn water(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let wet: Vec<&Connector> =
        yard.circuit.connectors.iter().filter(|one| !neighbors(one).is_empty()).collect();
    let connector = dice.pick(&wet)?;
    let mut hidden = Hidden::default();
    let base = dice.log_between(8.0, 8e3);
    let mut note = format!("water in {}:", connector.id);
    for (one, other) in neighbors(connector) {
        if dice.chance(0.75) {
            let ohms = base * dice.factor(0.5);
            note.push_str(&format!(" {}-{} {ohms:.0}", one.number, other.number));
            hidden.edits.push(Edit::path(&one.point, &other.point, ohms));
        }
    }
    for pin in connector.pins.iter().filter(|_| dice.chance(0.35)).collect::<Vec<_>>() {
        let here = |part: &&Component| {
            matches!(part.kind, ComponentKind::Connection { .. }) && touches(part, &pin.point)
        };
        if let Some(part) = yard.circuit.components.iter().find(here) {
            let ohms = dice.log_between(0.2, 300.0);
            hidden.edits.push(Edit::Series { part: part.id.clone(), ohms });
            hidden.seen_on.push(part.id.clone());
            note.push_str(&format!(" {} +{ohms:.1}", part.id));
        }
    }
    (!hidden.edits.is_empty()).then(|| Truth::outside(hidden, note))
}

/// Green corrosion that crept into the strands: the more current, the warmer, the more ohm.
pub fn green_wire(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let wires: Vec<&Component> = yard
        .circuit
        .components
        .iter()
        .filter(|part| matches!(part.kind, ComponentKind::Wire { .. }))
        .collect();
    let wire = dice.pick(&wires)?;
    let ohms = dice.log_between(0.05, 300.0);
    // It doubles at a current that heats it: a few watts.
    let amps = (dice.between(2.0, 8.0) / ohms).sqrt();
    let edit = Edit::Growing { part: wire.id.clone(), ohms, amps };
    let causes = yard.listed(&wire.id, FaultMode::HighResistance);
    let note = format!("{} corroded inside: {ohms:.2} ohm, twice that at {amps:.2} A", wire.id);
    Some(Truth { causes, ..Truth::outside(Hidden { edits: vec![edit], ..Hidden::default() }, note) })
}

/// A loom chafed through: to the body, or to a wire beside it. What fuse stands before it blows, and stays blown.
pub fn chafed(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let wires: Vec<&Component> = yard
        .circuit
        .components
        .iter()
        .filter(|part| matches!(part.kind, ComponentKind::Wire { .. }))
        .collect();
    let wire = *dice.pick(&wires)?;
    let ends = emit::ends(&wire.kind);
    let end = dice.pick(&ends)?.clone();
    let ohms = dice.log_between(0.01, 8.0);
    let seen_on = if dice.chance(0.5) { vec![wire.id.clone()] } else { Vec::new() };
    if dice.chance(0.55) {
        let edit = Edit::path(&end, &yard.circuit.reference, ohms);
        let causes = yard.listed(&wire.id, FaultMode::ShortToGround);
        let note = format!("{} chafed to the body at {end}, {ohms:.2} ohm", wire.id);
        let hidden = Hidden { edits: vec![edit], seen_on, ..Hidden::default() };
        return Some(Truth { causes, ..Truth::outside(hidden, note) });
    }
    let others: Vec<&Component> = wires.into_iter().filter(|one| one.id != wire.id).collect();
    let other = dice.pick(&others)?;
    let there = dice.pick(&emit::ends(&other.kind))?.clone();
    if there == end {
        return None;
    }
    let note = format!("{} and {} chafed together at {end} and {there}, {ohms:.2} ohm", wire.id, other.id);
    Some(Truth::outside(
        Hidden { edits: vec![Edit::path(&end, &there, ohms)], seen_on, ..Hidden::default() },
        note,
    ))
}

/// Two wires in each other's place since an earlier repair.
pub fn swapped(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let connectors: Vec<&Connector> =
        yard.circuit.connectors.iter().filter(|one| one.pins.len() > 1).collect();
    let connector = dice.pick(&connectors)?;
    let (first, second) = (dice.pick(&connector.pins)?, dice.pick(&connector.pins)?);
    // The harness side moves: wires, and what stands for a wire.
    let harness = |part: &&Component| is_joint(&part.kind) && stays_in(part) && !yard.is_inside(&part.id);
    let at = |point: &str| yard.circuit.components.iter().filter(harness).any(|part| touches(part, point));
    if first.point == second.point || !at(&first.point) || !at(&second.point) {
        return None;
    }
    let parts = yard
        .circuit
        .components
        .iter()
        .filter(harness)
        .filter(|part| touches(part, &first.point) || touches(part, &second.point))
        .map(|part| part.id.clone())
        .collect();
    let note = format!("pins {} and {} of {} swapped", first.number, second.number, connector.id);
    let edit = Edit::Swapped { parts, first: first.point.clone(), second: second.point.clone() };
    Some(Truth::outside(Hidden { edits: vec![edit], ..Hidden::default() }, note))
}

/// A poor ground that another consumer uses as well: its current lifts it while that one is on.
pub fn shared_ground(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let grounds: Vec<(&Component, String)> = yard
        .circuit
        .components
        .iter()
        .filter(|part| matches!(part.kind, ComponentKind::Wire { .. } | ComponentKind::Connection { .. }))
        .filter_map(|part| {
            let ends = emit::ends(&part.kind);
            let far = ends.iter().find(|end| **end != yard.circuit.reference)?.clone();
            ends.contains(&yard.circuit.reference).then_some((part, far))
        })
        .collect();
    let (ground, far) = dice.pick(&grounds)?;
    let (ohms, other) = (dice.log_between(0.03, 3.0), dice.between(0.5, 4.0));
    let edits = vec![Edit::Series { part: ground.id.clone(), ohms }, Edit::path(&feed(yard), far, other)];
    let seen_on = if dice.chance(0.8) { vec![ground.id.clone()] } else { Vec::new() };
    let causes = yard.listed(&ground.id, FaultMode::HighResistance);
    let note = format!("{} has {ohms:.2} ohm, and a consumer of {other:.1} ohm uses it too", ground.id);
    Some(Truth { causes, ..Truth::outside(Hidden { edits, seen_on, ..Hidden::default() }, note) })
}

/// A terminal with a film on it, which unplugging wipes off: the fault is gone, and nobody has repaired anything.
pub fn reseating_cures(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let plugs = |part: &Component| {
        matches!(part.kind, ComponentKind::Connection { .. }) && !part.present_when.is_empty()
    };
    let truth = break_file::any(
        yard,
        Range::Usual,
        |part, fault| plugs(part) && matches!(fault.mode, FaultMode::HighResistance | FaultMode::Open),
        dice,
    )?;
    let id = truth.causes.first().and_then(|cause| cause.split('/').next())?.to_owned();
    let part = yard.circuit.components.iter().find(|part| part.id == id)?;
    let variable = variable_of(&part.present_when)?;
    let mut truth = Truth { rhythm: Rhythm::UntilReseated(variable), ..truth };
    truth.note.push_str(", gone once it was unplugged");
    truth.hidden.iter_mut().for_each(|one| {
        one.comes_and_goes = true;
        one.seen_on.clear();
    });
    Some(truth)
}

fn variable_of(when: &Conditions) -> Option<String> {
    when.keys().next().cloned()
}
