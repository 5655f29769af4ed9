//! How the parts of blocks fail: prior odds on one scale, all our judgment, each stated once. Loads and switches bring
//! their own in their lists.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::fault::{Basis, FaultMode, FaultSpec};

/// A wire: what it is, and how often it fails in each way. Odds of 0 = it doesn't fail so, or the failure does nothing.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WireRow {
    /// Length, m.
    pub length_m: f64,
    /// Cross-section, mm².
    pub area_mm2: f64,
    /// Odds of added resistance.
    pub high_resistance: f64,
    /// Odds of a break.
    pub open: f64,
    /// Odds of a short to ground.
    #[serde(default)]
    pub short_to_ground: f64,
    /// Odds of a short to the battery feed.
    #[serde(default)]
    pub short_to_feed: f64,
    /// Least resistance of such a short, ohm.
    #[serde(default = "dead_short")]
    pub short_ohms: f64,
}

const fn dead_short() -> f64 {
    0.01
}

const fn row(length_m: f64, area_mm2: f64, odds: [f64; 4]) -> WireRow {
    let [high_resistance, open, short_to_ground, short_to_feed] = odds;
    let short_ohms = dead_short();
    WireRow { length_m, area_mm2, high_resistance, open, short_to_ground, short_to_feed, short_ohms }
}

/// Battery cable to the fuse box.
pub(super) const CABLE_FEED: WireRow = row(0.8, 16.0, [0.3, 0.0, 0.0, 0.0]);
/// Battery cable to a starter.
pub(super) const CABLE_STARTER: WireRow = row(1.3, 35.0, [0.4, 0.1, 0.0, 0.0]);
/// Feed of a module.
pub(super) const MODULE_FEED: WireRow = row(1.6, 0.75, [0.42, 0.28, 0.14, 0.0]);
/// Ground of a module.
pub(super) const MODULE_GROUND: WireRow = row(0.9, 0.75, [0.48, 0.32, 0.0, 0.0]);
/// From what asks by ground to the module.
pub(super) const INPUT_GROUNDED: WireRow = row(2.4, 0.5, [0.48, 0.32, 0.0, 0.1]);
/// From what asks by feed to the module. From half an ohm down the fuse blows, and nothing below 0.2 ohm adds to that: only
/// a starter that pulls the feed below what the module hears, lets go and is heard again, until the fuse is gone.
pub(super) const INPUT_FED: WireRow = WireRow { short_ohms: 0.2, ..row(2.4, 0.5, [0.48, 0.32, 0.16, 0.0]) };
/// From a fuse to what asks by feed.
pub(super) const SWITCH_FEED: WireRow = WireRow { short_ohms: 0.2, ..row(1.5, 0.75, [0.3, 0.2, 0.1, 0.0]) };
/// Ground of what asks.
pub(super) const SWITCH_GROUND: WireRow = row(0.6, 0.5, [0.3, 0.2, 0.0, 0.0]);
/// From what feeds the coil to 86.
pub(super) const CONTROL_FED: WireRow = row(2.1, 0.5, [0.9, 0.6, 0.3, 0.0]);
/// From 85 to what grounds the coil.
pub(super) const CONTROL_GROUNDED: WireRow = row(2.6, 0.5, [0.72, 0.48, 0.24, 0.12]);
/// From 85 to ground, or to the switch in that leg.
pub(super) const LEG_GROUND: WireRow = row(0.7, 0.5, [0.6, 0.4, 0.0, 0.0]);
/// From the load's fuse to 86, beside the wire to 30.
pub(super) const LEG_FEED_SHORT: WireRow = row(0.4, 0.75, [0.3, 0.2, 0.0, 0.0]);
/// From a feed of its own, or from the switch in that leg, to 86.
pub(super) const LEG_FEED: WireRow = row(1.0, 0.75, [0.3, 0.2, 0.1, 0.0]);
/// From a fuse or the ignition switch to the switch in a fed leg.
pub(super) const LEG_FEED_TO_SWITCH: WireRow = row(1.6, 0.75, [0.3, 0.2, 0.1, 0.0]);

/// Least and most added resistance of a wire that carries little, ohm.
pub(super) const LITTLE: (f64, f64) = (0.5, 1e6);
/// Of a wire that carries a load.
pub(super) const MUCH: (f64, f64) = (0.1, 1e4);
/// Of a battery cable.
pub(super) const CABLE: (f64, f64) = (0.02, 1e4);
/// Of a starter's cable and its ground.
pub(super) const CRANKING: (f64, f64) = (0.002, 10.0);

pub(super) fn of_wire(row: &WireRow, (least, most): (f64, f64)) -> Vec<FaultSpec> {
    let all = [
        spec(FaultMode::HighResistance, least, most, row.high_resistance, 0.25),
        plain(FaultMode::Open, row.open, 0.25),
        spec(FaultMode::ShortToGround, row.short_ohms, 100.0, row.short_to_ground, 0.2),
        spec(FaultMode::ShortToFeed, row.short_ohms, 100.0, row.short_to_feed, 0.2),
    ];
    all.into_iter().filter(|fault| fault.odds > 0.0).collect()
}

pub(super) fn of_cable(row: &WireRow, (least, most): (f64, f64)) -> Vec<FaultSpec> {
    let resistance = spec(FaultMode::HighResistance, least, most, row.high_resistance, 0.3);
    [resistance, plain(FaultMode::Open, row.open, 0.3)].into_iter().filter(|fault| fault.odds > 0.0).collect()
}

pub(super) fn of_battery() -> Vec<FaultSpec> {
    vec![
        spec(FaultMode::LowVoltage, 6.0, 12.0, 0.8, 0.0),
        spec(FaultMode::HighResistance, 0.02, 10.0, 0.4, 0.0),
    ]
}

pub(super) fn of_body_ground() -> Vec<FaultSpec> {
    vec![spec(FaultMode::HighResistance, 0.02, 1e4, 0.6, 0.3), plain(FaultMode::Open, 0.2, 0.0)]
}

pub(super) fn of_engine_ground() -> Vec<FaultSpec> {
    let (least, most) = CRANKING;
    vec![spec(FaultMode::HighResistance, least, most, 0.5, 0.3), plain(FaultMode::Open, 0.15, 0.3)]
}

/// The fuse of what a relay switches.
pub(super) fn of_load_fuse() -> Vec<FaultSpec> {
    vec![plain(FaultMode::Open, 1.5, 0.0), spec(FaultMode::HighResistance, 0.1, 1e4, 0.3, 0.3)]
}

/// A fuse that feeds a module or a coil.
pub(super) fn of_small_fuse() -> Vec<FaultSpec> {
    vec![plain(FaultMode::Open, 1.0, 0.0), spec(FaultMode::HighResistance, 0.5, 1e5, 0.2, 0.3)]
}

/// A terminal of a module.
pub(super) fn of_terminal() -> Vec<FaultSpec> {
    vec![spec(FaultMode::HighResistance, 0.5, 1e6, 0.48, 0.4), plain(FaultMode::Open, 0.32, 0.4)]
}

/// The terminal of its output, which carries more.
pub(super) fn of_output_terminal() -> Vec<FaultSpec> {
    vec![spec(FaultMode::HighResistance, 0.5, 1e6, 0.54, 0.4), plain(FaultMode::Open, 0.36, 0.4)]
}

pub(super) fn of_coil() -> Vec<FaultSpec> {
    vec![
        plain(FaultMode::Open, 1.0, 0.2),
        spec(FaultMode::DrawsTooMuch, 0.05, 0.7, 0.1, 0.0),
        plain(FaultMode::Jammed, 0.5, 0.3),
    ]
}

pub(super) fn of_contact() -> Vec<FaultSpec> {
    vec![
        plain(FaultMode::StuckOpen, 1.5, 0.3),
        spec(FaultMode::HighResistance, 0.05, 1e4, 1.0, 0.4),
        plain(FaultMode::StuckClosed, 0.5, 0.0),
    ]
}

/// The diode across a coil. Open it does nothing that shows here.
pub(super) fn of_diode() -> Vec<FaultSpec> {
    vec![spec(FaultMode::ShortAcross, 0.01, 10.0, 0.2, 0.0)]
}

pub(super) fn of_driver() -> Vec<FaultSpec> {
    vec![
        plain(FaultMode::Dead, 0.8, 0.2),
        spec(FaultMode::Weak, 5.0, 1e5, 0.4, 0.3),
        plain(FaultMode::NotCommanded, 0.4, 0.2),
        plain(FaultMode::AlwaysOn, 0.1, 0.0),
    ]
}

/// The output of a module that carries the load itself. It is weak from a third of the load's ohms on.
pub(super) fn of_power_driver(load_ohms: f64) -> Vec<FaultSpec> {
    vec![
        plain(FaultMode::Dead, 0.8, 0.2),
        spec(FaultMode::Weak, short(0.3 * load_ohms), short(1e4 * load_ohms), 0.4, 0.3),
        plain(FaultMode::NotCommanded, 0.4, 0.2),
        plain(FaultMode::AlwaysOn, 0.1, 0.0),
    ]
}

/// A terminal in the connector of a load.
pub(super) fn of_load_terminal() -> Vec<FaultSpec> {
    let (least, most) = MUCH;
    vec![spec(FaultMode::HighResistance, least, most, 0.4, 0.4), plain(FaultMode::Open, 0.25, 0.4)]
}

/// The transistor of a solid-state relay.
pub(super) fn of_transistor() -> Vec<FaultSpec> {
    vec![
        plain(FaultMode::Dead, 1.2, 0.2),
        spec(FaultMode::Weak, 0.05, 1e4, 0.5, 0.3),
        plain(FaultMode::AlwaysOn, 0.4, 0.0),
    ]
}

/// The input of a solid-state relay.
pub(super) fn of_transistor_input() -> Vec<FaultSpec> {
    vec![plain(FaultMode::Open, 0.4, 0.2)]
}

pub(super) fn of_solenoid_contact() -> Vec<FaultSpec> {
    let (least, most) = CRANKING;
    vec![spec(FaultMode::HighResistance, least, most, 0.8, 0.3), plain(FaultMode::StuckOpen, 0.6, 0.4)]
}

pub(super) fn of_starter_motor() -> Vec<FaultSpec> {
    vec![
        plain(FaultMode::Open, 0.8, 0.4),
        spec(FaultMode::HighResistance, 0.01, 10.0, 0.6, 0.3),
        plain(FaultMode::Jammed, 0.3, 0.0),
    ]
}

/// The switch that feeds with the key on.
pub(super) fn of_ignition_switch() -> Vec<FaultSpec> {
    vec![plain(FaultMode::StuckOpen, 0.4, 0.3), spec(FaultMode::HighResistance, 0.5, 1e5, 0.4, 0.3)]
}

/// To three digits: nobody knows more of it, and every file gives it back as it was written.
pub(super) fn short(value: f64) -> f64 {
    format!("{value:.2e}").parse().unwrap_or(value)
}

fn plain(mode: FaultMode, odds: f64, comes_and_goes: f64) -> FaultSpec {
    FaultSpec { mode, min: None, max: None, at: None, odds, basis: Basis::Judgment, comes_and_goes }
}

fn spec(mode: FaultMode, min: f64, max: f64, odds: f64, comes_and_goes: f64) -> FaultSpec {
    FaultSpec { min: Some(min), max: Some(max), ..plain(mode, odds, comes_and_goes) }
}
