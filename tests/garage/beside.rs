//! A fault of the file with something else beside it.

use circuit::{Behavior, ComponentKind, FaultMode};

use super::break_file::{self, Range};
use super::dice::Dice;
use super::harm::Edit;
use super::hidden::{Hidden, Rhythm, Truth, Yard};

/// Not in the battery, not in a module.
fn outside(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let allowed = |part: &circuit::Component| {
        !matches!(part.kind, ComponentKind::Battery { .. }) && !yard.is_inside(&part.id)
    };
    break_file::any(yard, Range::Usual, |part, _| allowed(part), dice)
}

/// Two faults of the file.
pub fn two_faults(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let first = break_file::any(yard, Range::Usual, |_, _| true, dice)?;
    let second = break_file::any(yard, Range::Usual, |_, _| true, dice)?;
    let part = |cause: &Option<&String>| cause.and_then(|cause| cause.split('/').next()).map(str::to_owned);
    (part(&first.causes.first()) != part(&second.causes.first())).then(|| first.and(second))
}

/// A battery that was run down by trying again and again, beside the fault that made them try.
pub fn weak_battery(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let real = outside(yard, dice)?;
    let battery =
        yard.circuit.components.iter().find(|part| matches!(part.kind, ComponentKind::Battery { .. }))?;
    let id = battery.id.clone();
    let ComponentKind::Battery { internal_ohms, .. } = &battery.kind else { return None };
    let (edit, mode, note) = if dice.chance(0.75) {
        let volts = dice.between(11.0, 12.1);
        (Edit::Volts { part: id, volts }, FaultMode::LowVoltage, format!("battery run down to {volts:.2} V"))
    } else {
        let ohms = internal_ohms * dice.log_between(3.0, 15.0);
        (Edit::Series { part: id, ohms }, FaultMode::HighResistance, format!("battery aged by {ohms:.3} ohm"))
    };
    let hidden = Hidden { edits: vec![edit], ..Hidden::default() };
    let causes = yard.listed(&battery.id, mode);
    let beside = Truth { causes, ..Truth::outside(hidden, note) };
    Some(real.and(beside))
}

/// An output that shows neither battery nor ground while open, in a module that is healthy, beside a fault outside it.
pub fn odd_bias(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let real = outside(yard, dice)?;
    let drivers: Vec<(&str, &ComponentKind)> = yard
        .vehicle
        .parts
        .iter()
        .filter(|part| yard.is_inside(&part.id))
        .map(|part| (part.id.as_str(), &part.kind))
        .filter(|(_, kind)| {
            matches!(kind, ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. })
        })
        .collect();
    let (id, kind) = dice.pick(&drivers)?;
    let mut kind = (*kind).clone();
    let both = dice.chance(0.6);
    let up = dice.log_between(2e3, 300e3);
    let down = dice.log_between(2e3, 300e3);
    let has_up = dice.chance(0.5);
    if let ComponentKind::HighSideDriver { off_pull_up_ohms, off_pull_down_ohms, .. }
    | ComponentKind::LowSideDriver { off_pull_up_ohms, off_pull_down_ohms, .. } = &mut kind
    {
        *off_pull_up_ohms = (both || has_up).then_some(up);
        *off_pull_down_ohms = (both || !has_up).then_some(down);
    }
    let edit = Edit::Fitted { part: (*id).to_owned(), kind: Box::new(kind) };
    let hidden = Hidden { edits: vec![edit], ..Hidden::default() };
    Some(real.and(Truth::outside(hidden, format!("{id} biased otherwise: {up:.0} up, {down:.0} down"))))
}

/// The scan tool shows a substitute value, or the data list is another vehicle's.
pub fn lying_scan(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let real = outside(yard, dice)?;
    let asks = |test: &&circuit::Test| {
        let sees = test.question.as_ref().is_some_and(|one| {
            matches!(one.behavior, Behavior::ModuleSees { .. } | Behavior::ConditionsMet { .. })
        });
        sees && test.id != yard.circuit.complaint.test
    };
    let tests: Vec<String> = yard.circuit.tests.iter().filter(asks).map(|test| test.id.clone()).collect();
    if tests.is_empty() {
        return None;
    }
    let hidden = Hidden { edits: vec![Edit::Lie(tests)], ..Hidden::default() };
    Some(real.and(Truth::outside(hidden, "the scan tool says the opposite")))
}

/// A fault that movement or heat brings and takes.
pub fn intermittent(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let allowed = |mode: FaultMode| {
        !matches!(mode, FaultMode::LowVoltage | FaultMode::DrawsTooMuch | FaultMode::NotCommanded)
    };
    let truth = break_file::any(yard, Range::Usual, |_, fault| allowed(fault.mode), dice)?;
    Some(made_intermittent(truth, dice))
}

/// The same truth, but only there at times.
pub fn made_intermittent(mut truth: Truth, dice: &mut Dice) -> Truth {
    truth.hidden.iter_mut().for_each(|one| one.comes_and_goes = true);
    truth.rhythm = if dice.chance(0.65) { Rhythm::Wiggles } else { Rhythm::Heats };
    truth.note.push_str(if truth.rhythm == Rhythm::Heats { ", when warm" } else { ", when moved" });
    truth
}

/// A break whose far side isn't dead: damp and dirt along the loom feed it through megohms, and a meter of ten megohms
/// shows volts that no lamp would light from.
pub fn ghost_volts(yard: &Yard, dice: &mut Dice) -> Option<Truth> {
    let breaks = |part: &circuit::Component, mode: FaultMode| {
        let path = matches!(
            part.kind,
            ComponentKind::Wire { .. } | ComponentKind::Connection { .. } | ComponentKind::Fuse { .. }
        );
        path && mode == FaultMode::Open
    };
    let mut truth = break_file::any(yard, Range::Usual, |part, fault| breaks(part, fault.mode), dice)?;
    let id = truth.causes.first()?.split('/').next()?.to_owned();
    let kind = &yard.vehicle.part(&id)?.kind;
    let ohms = dice.log_between(1.5e6, 60e6);
    let feed = break_file::feed(yard);
    let reference = &yard.circuit.reference;
    let ends = super::emit::ends(kind).into_iter().filter(|end| *end != feed && end != reference);
    let leaks: Vec<Edit> = ends.map(|end| Edit::path(&feed, &end, ohms)).collect();
    truth.hidden.first_mut()?.edits.extend(leaks);
    truth.note.push_str(&format!(", with {:.1} Mohm of damp to a feed", ohms / 1e6));
    Some(truth)
}
