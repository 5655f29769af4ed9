//! Leads that go where they shouldn't.

use circuit::{Circuit, MeasureMode, ObservedValue, Test};

use super::dice::Dice;
use super::emit;

/// Readings at a wrong place, of all readings.
const SLIPS: f64 = 0.02;

/// The test as the leads truly lie; nothing where a lead touches nothing.
pub fn misprobed(circuit: &Circuit, test: &Test, dice: &mut Dice) -> Option<Test> {
    if !dice.chance(SLIPS) {
        return Some(test.clone());
    }
    let placed = matches!(test.mode, MeasureMode::Amps | MeasureMode::AmpsClamp);
    if placed || dice.chance(0.3) {
        return None;
    }
    let at_red = dice.chance(0.75);
    let lead = if at_red { test.red.as_deref() } else { test.black.as_deref() }?;
    let near = nearby(circuit, lead);
    let Some(wrong) = dice.pick(&near) else { return Some(test.clone()) };
    let mut slipped = test.clone();
    let end = if at_red { &mut slipped.red } else { &mut slipped.black };
    *end = Some(wrong.clone());
    (slipped.red != slipped.black).then_some(slipped)
}

/// Pins of the same connector, and the other ends of what is joined there.
fn nearby(circuit: &Circuit, point: &str) -> Vec<String> {
    let connectors = circuit.connectors.iter().filter(|one| one.pins.iter().any(|pin| pin.point == point));
    let mut near: Vec<String> = connectors
        .flat_map(|one| &one.pins)
        .map(|pin| pin.point.clone())
        .filter(|one| one != point)
        .collect();
    if near.is_empty() {
        let joined = circuit.components.iter().map(|part| emit::ends(&part.kind));
        near = joined.filter(|ends| ends.iter().any(|end| end == point)).flatten().collect();
    }
    near.retain(|one| one != point && circuit.points.iter().any(|known| known.id == *one && known.reachable));
    near.sort();
    near.dedup();
    near
}

/// What the display shows while a lead hangs in the air.
pub fn nothing(test: &Test, dice: &mut Dice) -> ObservedValue {
    match test.mode {
        MeasureMode::Ohms | MeasureMode::Duty | MeasureMode::Hertz => ObservedValue::OverLimit,
        MeasureMode::VoltsDc => ObservedValue::Number((dice.normal() * 30.0).round() / 1000.0),
        MeasureMode::VoltsLowImpedance
        | MeasureMode::VoltsAc
        | MeasureMode::MillivoltsDc
        | MeasureMode::Amps
        | MeasureMode::AmpsClamp => ObservedValue::Number(0.0),
        MeasureMode::Continuity | MeasureMode::Look | MeasureMode::YesNo => ObservedValue::No,
    }
}
