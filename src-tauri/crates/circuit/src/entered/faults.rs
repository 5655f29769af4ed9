//! How entered parts fail, with prior odds: all our judgment, on one scale.

use crate::entered::entry::EnteredKind;
use crate::file::fault::{Basis, FaultMode, FaultSpec};

/// Default faults of a part. `at_ground` = it lies on the ground side, where a short to ground does nothing.
pub(super) fn of(kind: &EnteredKind, at_ground: bool) -> Vec<FaultSpec> {
    let mut faults = match kind {
        EnteredKind::Battery {} => {
            vec![
                spec(FaultMode::LowVoltage, 6.0, 12.0, 0.8, 0.0),
                spec(FaultMode::HighResistance, 0.02, 10.0, 0.4, 0.1),
            ]
        }
        EnteredKind::Fuse { .. } => {
            vec![plain(FaultMode::Open, 1.2, 0.0), spec(FaultMode::HighResistance, 0.1, 1e5, 0.25, 0.3)]
        }
        EnteredKind::Wire { .. } => vec![
            spec(FaultMode::HighResistance, 0.1, 1e6, 0.5, 0.25),
            plain(FaultMode::Open, 0.35, 0.25),
            spec(FaultMode::ShortToGround, 0.01, 100.0, 0.15, 0.2),
        ],
        EnteredKind::Connection {} | EnteredKind::Splice { .. } => {
            vec![spec(FaultMode::HighResistance, 0.05, 1e6, 0.6, 0.4), plain(FaultMode::Open, 0.3, 0.4)]
        }
        EnteredKind::Switch { .. } => {
            vec![plain(FaultMode::StuckOpen, 1.0, 0.3), spec(FaultMode::HighResistance, 0.1, 1e6, 0.5, 0.3)]
        }
        EnteredKind::RelayCoil { .. } => {
            vec![plain(FaultMode::Open, 1.0, 0.2), plain(FaultMode::Jammed, 0.5, 0.3)]
        }
        EnteredKind::RelayContact { .. } => {
            vec![plain(FaultMode::StuckOpen, 1.5, 0.3), spec(FaultMode::HighResistance, 0.05, 1e4, 1.0, 0.4)]
        }
        EnteredKind::Lamp { .. } => {
            vec![plain(FaultMode::Open, 3.0, 0.1), spec(FaultMode::HighResistance, 0.2, 1e4, 0.4, 0.4)]
        }
        EnteredKind::Motor { .. } => vec![
            plain(FaultMode::Open, 1.2, 0.2),
            spec(FaultMode::HighResistance, 0.2, 1e4, 0.6, 0.3),
            plain(FaultMode::Jammed, 0.6, 0.1),
        ],
        EnteredKind::Load { .. } => {
            vec![plain(FaultMode::Open, 1.2, 0.2), spec(FaultMode::HighResistance, 0.2, 1e4, 0.5, 0.3)]
        }
        EnteredKind::Resistor { .. } => vec![plain(FaultMode::Open, 0.5, 0.1)],
        EnteredKind::Diode {} => {
            vec![plain(FaultMode::Open, 0.4, 0.1), spec(FaultMode::ShortAcross, 0.01, 10.0, 0.3, 0.0)]
        }
        // Its two halves and what its electronics draw have their own.
        EnteredKind::Sensor { .. } => vec![plain(FaultMode::Open, 0.4, 0.2)],
        EnteredKind::Thermistor { .. } => {
            vec![plain(FaultMode::Open, 0.6, 0.3), spec(FaultMode::HighResistance, 100.0, 1e6, 0.6, 0.2)]
        }
    };
    if at_ground {
        faults.retain(|fault| fault.mode != FaultMode::ShortToGround);
    }
    faults
}

/// Faults of a terminal in a module's connector.
pub(super) fn of_terminal() -> Vec<FaultSpec> {
    vec![spec(FaultMode::HighResistance, 0.5, 1e6, 0.5, 0.4), plain(FaultMode::Open, 0.3, 0.4)]
}

/// Faults of a module's output.
pub(super) fn of_driver(pulses: bool) -> Vec<FaultSpec> {
    let mut faults = vec![
        plain(FaultMode::Dead, 0.8, 0.2),
        spec(FaultMode::Weak, 5.0, 1e5, 0.4, 0.3),
        plain(FaultMode::NotCommanded, 0.4, 0.2),
    ];
    if pulses {
        faults.push(spec(FaultMode::LowDuty, 0.1, 0.8, 0.3, 0.0));
    }
    faults
}

/// Faults of a module's 5 V for its sensors.
pub(super) fn of_reference() -> Vec<FaultSpec> {
    vec![
        plain(FaultMode::Dead, 0.5, 0.2),
        spec(FaultMode::Weak, 30.0, 1e5, 0.2, 0.2),
        spec(FaultMode::LowVoltage, 0.5, 4.0, 0.2, 0.0),
    ]
}

/// Electronics of a sensor that draw too much, and pull down the 5 V of all that share it.
pub(super) fn of_electronics() -> Vec<FaultSpec> {
    vec![spec(FaultMode::ShortAcross, 0.3, 30.0, 1.0, 0.1)]
}

/// A wire that 5 V, a signal or a CAN pair goes along: it fails from lower ohms and to more than one side.
pub(super) fn of_signal_wire(at_ground: bool) -> Vec<FaultSpec> {
    let mut faults =
        vec![spec(FaultMode::HighResistance, 20.0, 1e6, 0.5, 0.25), plain(FaultMode::Open, 0.35, 0.25)];
    if !at_ground {
        faults.push(spec(FaultMode::ShortToGround, 0.01, 100.0, 0.15, 0.2));
        faults.push(spec(FaultMode::ShortToFeed, 0.01, 100.0, 0.08, 0.2));
    }
    faults
}

/// A terminator inside a module.
pub(super) fn of_terminator() -> Vec<FaultSpec> {
    vec![plain(FaultMode::Open, 0.4, 0.1), spec(FaultMode::ShortAcross, 0.1, 30.0, 0.3, 0.0)]
}

/// A driver of a CAN wire.
pub(super) fn of_can_drive() -> Vec<FaultSpec> {
    vec![plain(FaultMode::Open, 0.3, 0.1), spec(FaultMode::ShortAcross, 5.0, 100.0, 0.15, 0.0)]
}

/// What feeds them.
pub(super) fn of_transceiver() -> Vec<FaultSpec> {
    vec![plain(FaultMode::Dead, 0.7, 0.1)]
}

fn plain(mode: FaultMode, odds: f64, comes_and_goes: f64) -> FaultSpec {
    FaultSpec { mode, min: None, max: None, at: None, odds, basis: Basis::Judgment, comes_and_goes }
}

fn spec(mode: FaultMode, min: f64, max: f64, odds: f64, comes_and_goes: f64) -> FaultSpec {
    FaultSpec { min: Some(min), max: Some(max), ..plain(mode, odds, comes_and_goes) }
}
