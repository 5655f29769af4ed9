//! Sorts of truth, with how often a shop meets them.
//!
//! The shares are judgment: no shop publishes such a list. The nine sorts that `for_tuning` refuses differ in kind, not in
//! degree, from what the circuit files can say: parts that aren't the maker's, wires in each other's place, modules that
//! refuse or protect themselves, instruments that lie, causes outside, cures that nobody made.

use super::beside;
use super::break_file::{self, Range};
use super::break_harness as harness;
use super::break_module as module;
use super::break_parts as parts;
use super::break_world as world;
use super::dice::Dice;
use super::hidden::{Truth, Yard};

/// Which jobs.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Mix {
    /// As a shop meets them.
    Shop,
    /// With a module truly bad.
    InModule,
    /// One sort alone.
    Only(Sort),
}

/// Sort of truth.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Hash)]
pub enum Sort {
    /// A fault of the circuit file, with other odds and other severities.
    FileFault,
    /// A fault of the circuit file, worse or slighter than its range.
    BeyondRange,
    /// A break whose far side shows volts to a meter.
    GhostVolts,
    /// A splice that feeds branches.
    CorrodedSplice,
    /// Leaks between pins.
    WaterInConnector,
    /// Resistance that grows with load.
    GreenWire,
    /// A loom chafed through; the fuse stays blown.
    ChafedLoom,
    /// Something tapped into a feed.
    Accessory,
    /// Another relay than the maker's.
    WrongRelay,
    /// Fuse, bulb or sensor of another rating.
    WrongPart,
    /// Two wires in each other's place.
    SwappedPins,
    /// A load stuck or burnt.
    StuckLoad,
    /// A run-down battery beside the fault.
    WeakBatteryBeside,
    /// A ground that another consumer lifts.
    SharedGround,
    /// A good module that withholds its output.
    ModuleRefuses,
    /// An overloaded output that protects itself.
    ProtectedOutput,
    /// A healthy output with another bias, beside the fault.
    OddBias,
    /// A bad part inside a module.
    BadOutput,
    /// The same, at times.
    BadOutputAtTimes,
    /// The same, with a fault outside.
    BadOutputAndMore,
    /// A cracked trace inside a module.
    CrackedTrace,
    /// A scan tool that says the opposite, beside the fault.
    LyingScan,
    /// A fault of the file that heat or movement brings.
    Intermittent,
    /// A terminal that unplugging cures.
    ReseatingCures,
    /// Two faults of the file.
    TwoFaults,
    /// Something outside the circuit.
    OtherSystem,
}

/// Share in a shop's jobs and share among truly bad modules, percent.
pub const SHARES: [(Sort, f64, f64); 26] = [
    (Sort::FileFault, 22.0, 0.0),
    (Sort::BeyondRange, 6.0, 0.0),
    (Sort::GhostVolts, 2.0, 0.0),
    (Sort::CorrodedSplice, 4.0, 0.0),
    (Sort::WaterInConnector, 4.0, 0.0),
    (Sort::GreenWire, 4.0, 0.0),
    (Sort::ChafedLoom, 5.0, 0.0),
    (Sort::Accessory, 3.0, 0.0),
    (Sort::WrongRelay, 2.0, 0.0),
    (Sort::WrongPart, 2.0, 0.0),
    (Sort::SwappedPins, 2.0, 0.0),
    (Sort::StuckLoad, 4.0, 0.0),
    (Sort::WeakBatteryBeside, 5.0, 0.0),
    (Sort::SharedGround, 4.0, 0.0),
    (Sort::ModuleRefuses, 3.0, 0.0),
    (Sort::ProtectedOutput, 2.0, 0.0),
    (Sort::OddBias, 3.0, 0.0),
    (Sort::BadOutput, 5.0, 66.0),
    (Sort::BadOutputAtTimes, 1.0, 10.0),
    (Sort::BadOutputAndMore, 0.0, 9.0),
    (Sort::CrackedTrace, 1.0, 15.0),
    (Sort::LyingScan, 3.0, 0.0),
    (Sort::Intermittent, 6.0, 0.0),
    (Sort::ReseatingCures, 2.0, 0.0),
    (Sort::TwoFaults, 3.0, 0.0),
    (Sort::OtherSystem, 2.0, 0.0),
];

impl Sort {
    /// Every sort.
    pub fn all() -> impl Iterator<Item = Self> {
        SHARES.iter().map(|row| row.0)
    }

    /// May the engine's numbers be set by looking at it? The others are for reporting only.
    pub const fn for_tuning(self) -> bool {
        !matches!(
            self,
            Self::Accessory
                | Self::WrongRelay
                | Self::WrongPart
                | Self::SwappedPins
                | Self::ModuleRefuses
                | Self::ProtectedOutput
                | Self::LyingScan
                | Self::ReseatingCures
                | Self::OtherSystem
        )
    }

    /// One of these by its share.
    pub fn draw(mix: Mix, dice: &mut Dice) -> Self {
        let share = |row: &(Self, f64, f64)| match mix {
            Mix::Shop => row.1,
            Mix::InModule => row.2,
            Mix::Only(sort) => f64::from(u8::from(row.0 == sort)),
        };
        let rows: Vec<(f64, Self)> = SHARES.iter().map(|row| (share(row), row.0)).collect();
        dice.weighted(&rows).copied().unwrap_or(Self::FileFault)
    }

    /// Breaks a healthy vehicle; nothing where this circuit can't have this sort.
    pub fn break_it(self, yard: &Yard, dice: &mut Dice) -> Option<Truth> {
        match self {
            Self::FileFault => break_file::any(yard, Range::Usual, |_, _| true, dice),
            Self::BeyondRange => break_file::any(yard, Range::Beyond, |_, _| true, dice),
            Self::GhostVolts => beside::ghost_volts(yard, dice),
            Self::CorrodedSplice => harness::corroded_splice(yard, dice),
            Self::WaterInConnector => harness::water(yard, dice),
            Self::GreenWire => harness::green_wire(yard, dice),
            Self::ChafedLoom => harness::chafed(yard, dice),
            Self::Accessory => parts::accessory(yard, dice),
            Self::WrongRelay => parts::wrong_relay(yard, dice),
            Self::WrongPart => parts::wrong_part(yard, dice),
            Self::SwappedPins => harness::swapped(yard, dice),
            Self::StuckLoad => parts::stuck_load(yard, dice),
            Self::WeakBatteryBeside => beside::weak_battery(yard, dice),
            Self::SharedGround => harness::shared_ground(yard, dice),
            Self::ModuleRefuses => module::refuses(yard, dice),
            Self::ProtectedOutput => module::protected_output(yard, dice),
            Self::OddBias => beside::odd_bias(yard, dice),
            Self::BadOutput => module::bad_output(yard, dice),
            Self::BadOutputAtTimes => module::bad_output_at_times(yard, dice),
            Self::BadOutputAndMore => module::bad_output_and_more(yard, dice),
            Self::CrackedTrace => module::cracked_trace(yard, dice),
            Self::LyingScan => beside::lying_scan(yard, dice),
            Self::Intermittent => beside::intermittent(yard, dice),
            Self::ReseatingCures => harness::reseating_cures(yard, dice),
            Self::TwoFaults => beside::two_faults(yard, dice),
            Self::OtherSystem => world::other_system(yard, dice),
        }
    }
}
