//! Faults that the circuit file lists.

use circuit::{Component, ComponentKind, FaultMode, FaultSpec};

use super::dice::Dice;
use super::emit;
use super::harm::Edit;
use super::hidden::{Hidden, Rhythm, Truth, Yard, cause, code};
use super::severity;

/// Which severities.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Range {
    Usual,
    Beyond,
}

/// Any fault of the file that `allowed` lets through.
pub fn any(
    yard: &Yard,
    range: Range,
    allowed: impl Fn(&Component, &FaultSpec) -> bool,
    dice: &mut Dice,
) -> Option<Truth> {
    let listed =
        yard.circuit.components.iter().flat_map(|part| part.faults.iter().map(move |fault| (part, fault)));
    let choice: Vec<(f64, (&Component, &FaultSpec))> = listed
        .filter(|(part, fault)| allowed(part, fault) && (range == Range::Usual || fault.min.is_some()))
        .map(|(part, fault)| (severity::odds(&yard.circuit.id, part, fault.mode), (part, fault)))
        .collect();
    let (part, fault) = dice.weighted(&choice)?;
    let ohms = match range {
        Range::Usual => severity::usual(fault, dice),
        Range::Beyond => severity::beyond(fault, dice)?,
    };
    Some(definite(yard, part, fault, ohms, dice))
}

/// A fault of the file with this severity.
pub fn definite(yard: &Yard, part: &Component, fault: &FaultSpec, severity: f64, dice: &mut Dice) -> Truth {
    let seen = dice.chance(can_be_seen(&part.kind, fault.mode));
    let hidden = Hidden {
        edits: edits(yard, part, fault.mode, fault.at.as_deref(), severity),
        comes_and_goes: false,
        seen_on: if seen { vec![part.id.clone()] } else { Vec::new() },
    };
    Truth {
        hidden: vec![hidden],
        causes: vec![cause(&part.id, fault.mode)],
        // One that withholds its output is good.
        in_module: yard.is_inside(&part.id) && fault.mode != FaultMode::NotCommanded,
        rhythm: Rhythm::Always,
        note: format!("{} {} {severity:.4}", part.id, code(fault.mode)),
    }
}

/// What a mode does to a part.
pub fn edits(yard: &Yard, part: &Component, mode: FaultMode, at: Option<&str>, severity: f64) -> Vec<Edit> {
    let id = part.id.clone();
    let ends = emit::ends(&part.kind);
    let end = at.map(str::to_owned).or_else(|| ends.first().cloned()).unwrap_or_default();
    vec![match mode {
        FaultMode::HighResistance => Edit::Series { part: id, ohms: severity },
        FaultMode::Open => Edit::Open(id),
        FaultMode::ShortToGround => Edit::path(&end, &yard.circuit.reference, severity),
        FaultMode::ShortToFeed => Edit::path(&end, &feed(yard), severity),
        FaultMode::StuckOpen => Edit::Stuck { part: id, closed: false },
        FaultMode::StuckClosed => Edit::Stuck { part: id, closed: true },
        FaultMode::Dead => Edit::Dead(id),
        FaultMode::NotCommanded => Edit::NotCommanded(id),
        FaultMode::Unresponsive => Edit::Unresponsive(id),
        FaultMode::Leaks => Edit::Leaks { part: id, ohms: severity },
        FaultMode::AlwaysOn => Edit::AlwaysOn(id),
        FaultMode::Weak => Edit::Weak { part: id, ohms: severity },
        FaultMode::LowVoltage => Edit::Volts { part: id, volts: severity },
        FaultMode::DrawsTooMuch => Edit::Draws { part: id, factor: severity },
        FaultMode::Jammed => Edit::Jammed(id),
        FaultMode::ShortAcross => Edit::Across { part: id, ohms: severity },
        FaultMode::LowDuty => Edit::Duty { part: id, factor: severity },
    }]
}

/// The battery's positive post.
pub fn feed(yard: &Yard) -> String {
    let post = yard.circuit.components.iter().find_map(|part| match &part.kind {
        ComponentKind::Battery { positive, .. } => Some(positive.clone()),
        _ => None,
    });
    post.unwrap_or_else(|| yard.circuit.reference.clone())
}

/// Chance that this harm leaves something to be seen.
pub const fn can_be_seen(kind: &ComponentKind, mode: FaultMode) -> f64 {
    match (kind, mode) {
        (ComponentKind::Fuse { .. }, FaultMode::Open) => 0.99,
        (ComponentKind::Lamp { .. }, FaultMode::Open) => 0.94,
        (ComponentKind::Connection { .. }, _) => 0.86,
        (ComponentKind::Wire { .. }, _) => 0.55,
        (ComponentKind::Battery { .. }, _) => 0.1,
        (ComponentKind::Fuse { .. } | ComponentKind::Contact { .. } | ComponentKind::Switch { .. }, _) => {
            0.35
        }
        _ => 0.15,
    }
}
