//! Modules: truly bad ones, and good ones that refuse.

use std::collections::BTreeSet;

use circuit::{Component, ComponentKind, FaultMode};

use super::beside;
use super::break_file::{self, Range};
use super::dice::Dice;
use super::emit;
use super::harm::Edit;
use super::hidden::{Hidden, Truth, Yard};
use super::moment::Stage;
use super::settle::{Bench, Meter};

fn is_output(kind: &ComponentKind) -> bool {
    matches!(
        kind,
        ComponentKind::HighSideDriver { .. }
            | ComponentKind::LowSideDriver { .. }
            | ComponentKind::RegulatedSupply { .. }
    )
}

/// A part inside a module gone bad, with severities of our own: many drivers that die keep their bias.
pub fn bad_output(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let inside: Vec<&Component> =
        yard.circuit.components.iter().filter(|part| yard.is_inside(&part.id)).collect();
    let part = *dice.pick(&inside)?;
    // One that withholds its output is good.
    let bad = |one: &Component, mode: FaultMode| one.id == part.id && mode != FaultMode::NotCommanded;
    let in_module = |truth: Truth| Truth { in_module: true, ..truth };
    if !is_output(&part.kind) || dice.chance(0.25) {
        return break_file::any(yard, Range::Usual, |one, fault| bad(one, fault.mode), dice).map(in_module);
    }
    let id = part.id.clone();
    let is_supply = matches!(part.kind, ComponentKind::RegulatedSupply { .. });
    let (edits, modes, note) = match dice.index(10) {
        0..=2 => (vec![Edit::Dead(id)], vec![FaultMode::Dead], "dead".to_owned()),
        3..=4 if !is_supply => {
            let modes = vec![FaultMode::Unresponsive];
            (vec![Edit::Unresponsive(id)], modes, "power stage gone, bias left".to_owned())
        }
        5 if !is_supply => {
            // Half burnt through: it leaks at the output whether on or off.
            let ohms = dice.log_between(200.0, 20e3);
            let edits = vec![Edit::Leaks { part: id, ohms }];
            (edits, vec![FaultMode::Leaks], format!("only leaks, {ohms:.0} ohm"))
        }
        6..=7 if is_supply => {
            let volts = dice.between(0.2, 4.5);
            (
                vec![Edit::Volts { part: id, volts }],
                vec![FaultMode::LowVoltage],
                format!("holds {volts:.2} V"),
            )
        }
        _ => {
            let ohms = dice.log_between(0.5, 3e3);
            (vec![Edit::Weak { part: id, ohms }], vec![FaultMode::Weak], format!("weak by {ohms:.1} ohm"))
        }
    };
    let causes = modes.iter().flat_map(|mode| yard.listed(&part.id, *mode)).take(1).collect();
    let hidden = Hidden { edits, ..Hidden::default() };
    Some(in_module(Truth { causes, ..Truth::outside(hidden, format!("{} {note}", part.id)) }))
}

/// The same, only there at times.
pub fn bad_output_at_times(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    bad_output(yard, dice).map(|truth| beside::made_intermittent(truth, dice))
}

/// A bad module and something bad outside it.
pub fn bad_output_and_more(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let inside = bad_output(yard, dice)?;
    let more = break_file::any(yard, Range::Usual, |part, _| !yard.is_inside(&part.id), dice)?;
    Some(inside.and(more))
}

/// The board's own feed or ground trace is cracked, behind the terminal: measured at the terminal all is well.
pub fn cracked_trace(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    if yard.circuit.modules.is_empty() {
        return None;
    }
    let needed: BTreeSet<&String> = yard
        .circuit
        .components
        .iter()
        .flat_map(|part| match &part.kind {
            ComponentKind::HighSideDriver { supply, ground, .. }
            | ComponentKind::LowSideDriver { supply, ground, .. } => {
                vec![supply, ground]
            }
            ComponentKind::SupplyLoad { from, to, .. } => vec![from, to],
            _ => Vec::new(),
        })
        .collect();
    let hidden_point = |id: &str| yard.circuit.points.iter().any(|point| point.id == id && !point.reachable);
    let traces: Vec<&String> = needed.into_iter().filter(|point| hidden_point(point)).collect();
    let point = dice.pick(&traces)?;
    // The terminal and the lead that bypasses it stay outside the crack; all that is on the board keeps its point, and with
    // it what the chip needs to see.
    let outer: Vec<(&str, String)> = yard
        .circuit
        .components
        .iter()
        .filter(|part| matches!(part.kind, ComponentKind::Connection { .. } | ComponentKind::Wire { .. }))
        .filter_map(|part| {
            let ends = emit::ends(&part.kind);
            let far = ends.iter().find(|end| *end != *point)?.clone();
            ends.contains(point).then_some((part.id.as_str(), far))
        })
        .collect();
    let (_, pin) = dice.pick(&outer)?;
    let parts: Vec<String> =
        outer.iter().filter(|(_, far)| far == pin).map(|(id, _)| (*id).to_owned()).collect();
    let ohms = dice.chance(0.6).then(|| dice.log_between(3.0, 5e3));
    let edits = vec![Edit::Split { point: (*point).clone(), parts, name: "behind:trace".to_owned(), ohms }];
    let note = format!(
        "trace from {pin} to {point} cracked: {}",
        ohms.map_or("open".to_owned(), |ohms| format!("{ohms:.0} ohm"))
    );
    let hidden = Hidden { edits, ..Hidden::default() };
    Some(Truth { in_module: true, ..Truth::outside(hidden, note) })
}

/// All inputs are good, the hardware is good, and the module withholds its output: a condition nobody told it is met
/// (theft guard, load shedding, a code stored elsewhere), or old software. A scan tool's output test works.
pub fn refuses(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let drivers: Vec<&Component> = yard
        .circuit
        .components
        .iter()
        .filter(|part| yard.is_inside(&part.id))
        .filter(|part| {
            matches!(part.kind, ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. })
        })
        .collect();
    let driver = dice.pick(&drivers)?;
    let hidden = Hidden { edits: vec![Edit::NotCommanded(driver.id.clone())], ..Hidden::default() };
    let causes = yard.listed(&driver.id, FaultMode::NotCommanded);
    let truth = Truth::outside(hidden, format!("{}'s module refuses, hardware good", driver.id));
    Some(Truth { causes, in_module: false, ..truth })
}

/// A load or wire that overloads a good output, and an output that protects itself: it is off, as if it were dead.
pub fn protected_output(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let drivers: Vec<usize> = yard
        .circuit
        .components
        .iter()
        .enumerate()
        .filter(|(_, part)| {
            let driver = matches!(
                part.kind,
                ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. }
            );
            driver && yard.is_inside(&part.id)
        })
        .map(|(place, _)| place)
        .collect();
    let overloads = |mode: FaultMode| {
        matches!(
            mode,
            FaultMode::DrawsTooMuch
                | FaultMode::ShortAcross
                | FaultMode::ShortToGround
                | FaultMode::ShortToFeed
        )
    };
    let latch = drivers.iter().filter_map(|place| yard.circuit.components.get(*place));
    let latch: Vec<Edit> = latch.map(|part| Edit::Latches(part.id.clone())).collect();
    let allowed = |part: &Component, mode: FaultMode| overloads(mode) && !yard.is_inside(&part.id);
    let mut truth = break_file::any(yard, Range::Usual, |part, fault| allowed(part, fault.mode), dice)?;
    let hidden = truth.hidden.first_mut()?;
    hidden.edits.extend(latch);
    // Only where the output does switch off: otherwise it is a fault of the file like any other.
    let test = super::truth::complaint_test(yard.circuit).ok()?;
    let mut bench = Bench::new(yard.vehicle.with(&hidden.edits), BTreeSet::new());
    let settled = bench.settle(&test.state, None, &Meter::None).ok()?;
    let off = drivers.iter().any(|place| settled.stages.get(*place) == Some(&Stage::Limiting));
    truth.note.push_str(", and the output switches itself off");
    off.then_some(truth)
}
