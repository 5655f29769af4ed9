//! How often what breaks, and how badly: a technician's judgment, on purpose not the circuit files' odds.

use circuit::{Component, ComponentKind, FaultMode, FaultSpec};

use super::dice::Dice;

/// Odds of one fault of one part. Each part also has a factor of its own, the same in all jobs: some connectors sit where
/// the water runs.
pub fn odds(circuit: &str, component: &Component, mode: FaultMode) -> f64 {
    let own = Dice::named(&format!("{circuit}/{}", component.id), 7).factor(0.6);
    own * usual_odds(&component.kind, mode)
}

fn usual_odds(kind: &ComponentKind, mode: FaultMode) -> f64 {
    use FaultMode as Mode;
    match (kind, mode) {
        (ComponentKind::Connection { .. }, Mode::HighResistance) => 2.2,
        (ComponentKind::Connection { .. }, Mode::Open) => 0.8,
        (ComponentKind::Wire { .. }, Mode::HighResistance) => 1.0,
        (ComponentKind::Wire { .. }, Mode::Open) => 1.2,
        (ComponentKind::Wire { .. }, Mode::ShortToGround) => 0.8,
        (ComponentKind::Wire { .. }, Mode::ShortToFeed) => 0.25,
        (ComponentKind::Fuse { .. }, Mode::Open) => 1.6,
        (ComponentKind::Fuse { .. }, _) => 0.4,
        (ComponentKind::Battery { .. }, Mode::LowVoltage) => 1.5,
        (ComponentKind::Battery { .. }, _) => 0.7,
        (ComponentKind::Switch { .. }, Mode::StuckOpen) => 1.6,
        (ComponentKind::Switch { .. }, _) => 1.2,
        (ComponentKind::Contact { .. }, Mode::StuckOpen | Mode::HighResistance) => 1.8,
        (ComponentKind::Contact { .. }, _) => 0.5,
        (ComponentKind::Coil { .. }, Mode::Open) => 0.9,
        (ComponentKind::Coil { .. }, Mode::Jammed) => 0.6,
        (ComponentKind::Coil { .. }, _) => 0.3,
        (ComponentKind::Motor { .. }, Mode::Open | Mode::HighResistance) => 1.8,
        (ComponentKind::Motor { .. }, Mode::Jammed) => 1.4,
        (ComponentKind::Motor { .. }, _) => 0.5,
        (ComponentKind::Lamp { .. }, Mode::Open) => 4.0,
        (ComponentKind::Lamp { .. }, _) => 0.8,
        (ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. }, Mode::Dead) => 0.7,
        (ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. }, Mode::NotCommanded) => {
            0.5
        }
        (ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. }, Mode::Unresponsive) => {
            0.35
        }
        (ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. }, Mode::Leaks) => 0.15,
        (ComponentKind::HighSideDriver { .. } | ComponentKind::LowSideDriver { .. }, _) => 0.25,
        (ComponentKind::RegulatedSupply { .. }, Mode::Dead) => 1.0,
        (ComponentKind::RegulatedSupply { .. }, _) => 0.6,
        (ComponentKind::Diode { .. }, _) => 0.7,
        (ComponentKind::Thermistor { .. }, _) => 1.1,
        (ComponentKind::CurrentDraw { .. }, _) => 1.2,
        (ComponentKind::Resistor { .. }, Mode::Open) => 0.9,
        (ComponentKind::Resistor { .. } | ComponentKind::SupplyLoad { .. }, _) => 0.4,
        (_, _) => 0.5,
    }
}

/// A severity within the file's range, but not spread as the file says: corrosion is mostly beginning, shorts mostly hard,
/// batteries mostly a little low.
pub fn usual(fault: &FaultSpec, dice: &mut Dice) -> f64 {
    let (Some(min), Some(max)) = (fault.min, fault.max) else { return 0.0 };
    let u = dice.unit();
    let on_log = |u: f64| min * (max / min).powf(u);
    match fault.mode {
        FaultMode::HighResistance => match dice.index(10) {
            0..=4 => on_log(0.35 * u),
            5..=7 => on_log(u),
            _ => on_log(0.5 + 0.5 * u),
        },
        FaultMode::Weak => on_log(u.powf(1.8)),
        FaultMode::Leaks => on_log(u.powf(0.8)),
        FaultMode::ShortToGround | FaultMode::ShortToFeed | FaultMode::ShortAcross => on_log(u.powf(1.6)),
        FaultMode::LowVoltage => max - (max - min) * u.powf(2.0),
        FaultMode::DrawsTooMuch | FaultMode::LowDuty => min + (max - min) * u.sqrt(),
        _ => 0.0,
    }
}

/// A severity that the file's range doesn't reach, as real ones do.
pub fn beyond(fault: &FaultSpec, dice: &mut Dice) -> Option<f64> {
    let (Some(min), Some(max)) = (fault.min, fault.max) else { return None };
    Some(match fault.mode {
        FaultMode::HighResistance | FaultMode::Weak if dice.chance(0.55) => min * dice.log_between(0.15, 0.9),
        FaultMode::HighResistance | FaultMode::Weak => max * dice.log_between(1.2, 100.0),
        FaultMode::ShortToGround | FaultMode::ShortToFeed | FaultMode::ShortAcross if dice.chance(0.6) => {
            max * dice.log_between(1.2, 30.0)
        }
        FaultMode::ShortToGround | FaultMode::ShortToFeed | FaultMode::ShortAcross => {
            min * dice.between(0.1, 0.9)
        }
        FaultMode::Leaks if dice.chance(0.5) => max * dice.log_between(1.2, 10.0),
        FaultMode::Leaks => min * dice.between(0.2, 0.9),
        // A cell gone and the rest flat; a reference that a chip pulls down to 0.42 V.
        FaultMode::LowVoltage if dice.chance(0.8) => min * dice.between(0.55, 0.97),
        FaultMode::LowVoltage => max + (max - min) * dice.between(0.01, 0.04),
        FaultMode::DrawsTooMuch | FaultMode::LowDuty => min * dice.between(0.3, 0.95),
        _ => return None,
    })
}
