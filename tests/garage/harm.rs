//! What can be wrong with a vehicle, as edits of a healthy one.

use circuit::{ComponentKind, Conditions};

/// Harm done to one part.
#[derive(Debug, Clone, PartialEq)]
pub struct Harm {
    /// In series, ohm.
    pub series_ohms: f64,
    /// Current at which the series resistance has doubled (green corrosion heats up under load), ampere.
    pub growth_amps: Option<f64>,
    pub open: bool,
    /// Across the part, ohm.
    pub across_ohms: Option<f64>,
    /// A switch or contact that stays as it is.
    pub stuck_closed: Option<bool>,
    pub dead: bool,
    /// Its module withholds it: a scan tool can command it.
    pub not_commanded: bool,
    /// Nothing switches it on, and its bias is there.
    pub unresponsive: bool,
    /// A driver that nothing switches on, with so many ohm in its place at all times.
    pub leak_ohms: Option<f64>,
    pub always_on: bool,
    /// A driver that protects itself: at its limit it switches off, and stays off as long as it is asked for.
    pub latches: bool,
    pub jammed: bool,
    /// Volts are right, and yet it doesn't do its work (a seized blade, a clogged nozzle).
    pub useless: bool,
    /// Added to a driver's or a supply's own resistance, ohm.
    pub weak_ohms: f64,
    /// Factor on a load's resistance.
    pub draw_factor: f64,
    pub volts: Option<f64>,
    /// Factor on the share of time it is on.
    pub duty_factor: f64,
}

impl Default for Harm {
    fn default() -> Self {
        Self {
            series_ohms: 0.0,
            growth_amps: None,
            open: false,
            across_ohms: None,
            stuck_closed: None,
            dead: false,
            not_commanded: false,
            unresponsive: false,
            leak_ohms: None,
            always_on: false,
            latches: false,
            jammed: false,
            useless: false,
            weak_ohms: 0.0,
            draw_factor: 1.0,
            volts: None,
            duty_factor: 1.0,
        }
    }
}

/// One change of a vehicle.
#[derive(Debug, Clone, PartialEq)]
pub enum Edit {
    Series {
        part: String,
        ohms: f64,
    },
    Growing {
        part: String,
        ohms: f64,
        amps: f64,
    },
    Open(String),
    Across {
        part: String,
        ohms: f64,
    },
    Stuck {
        part: String,
        closed: bool,
    },
    Dead(String),
    NotCommanded(String),
    Unresponsive(String),
    Leaks {
        part: String,
        ohms: f64,
    },
    AlwaysOn(String),
    Latches(String),
    Jammed(String),
    Useless(String),
    Weak {
        part: String,
        ohms: f64,
    },
    Draws {
        part: String,
        factor: f64,
    },
    Volts {
        part: String,
        volts: f64,
    },
    Duty {
        part: String,
        factor: f64,
    },
    /// A path that shouldn't be there: leak, short, tapped accessory, another consumer.
    Path {
        from: String,
        to: String,
        ohms: f64,
        when: Conditions,
    },
    /// Another part than the maker's stands in its place.
    Fitted {
        part: String,
        kind: Box<ComponentKind>,
    },
    /// These parts end at the other of two points.
    Swapped {
        parts: Vec<String>,
        first: String,
        second: String,
    },
    /// A point comes apart: these parts now hang on a new point, joined to the old one by a resistance.
    Split {
        point: String,
        parts: Vec<String>,
        name: String,
        ohms: Option<f64>,
    },
    /// The scan tool answers the opposite in these tests.
    Lie(Vec<String>),
}

impl Edit {
    /// A path that is always there.
    pub fn path(from: &str, to: &str, ohms: f64) -> Self {
        Self::Path { from: from.to_owned(), to: to.to_owned(), ohms, when: Conditions::new() }
    }
}
