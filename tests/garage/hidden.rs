//! What is truly wrong, hidden from whoever is judged.

use circuit::Circuit;

use super::harm::Edit;
use super::specimen::Vehicle;

/// One thing that is wrong.
#[derive(Debug, Clone, PartialEq, Default)]
pub struct Hidden {
    pub edits: Vec<Edit>,
    /// Only there at times.
    pub comes_and_goes: bool,
    /// Parts on which it can be seen.
    pub seen_on: Vec<String>,
}

/// How what comes and goes does so.
#[derive(Debug, Clone, PartialEq, Eq)]
pub enum Rhythm {
    Always,
    /// By movement: it may change from one reading to the next.
    Wiggles,
    /// By heat: there only after some readings, then mostly there.
    Heats,
    /// Unplugging wipes the terminals: it is gone from then on. The state variable that unplugs it.
    UntilReseated(String),
}

/// The whole truth of one job.
#[derive(Debug, Clone, PartialEq)]
pub struct Truth {
    pub hidden: Vec<Hidden>,
    /// `component/mode`, where the circuit file lists it.
    pub causes: Vec<String>,
    /// The module's hardware is bad; one that withholds its output is good.
    pub in_module: bool,
    pub rhythm: Rhythm,
    /// In words, for the program's print.
    pub note: String,
}

impl Truth {
    /// Something that no circuit file lists.
    pub fn outside(hidden: Hidden, note: impl Into<String>) -> Self {
        let note = note.into();
        Self { hidden: vec![hidden], causes: Vec::new(), in_module: false, rhythm: Rhythm::Always, note }
    }

    /// Another truth beside this one.
    pub fn and(mut self, other: Self) -> Self {
        self.hidden.extend(other.hidden);
        for cause in other.causes {
            if !self.causes.contains(&cause) {
                self.causes.push(cause);
            }
        }
        self.in_module |= other.in_module;
        if self.rhythm == Rhythm::Always {
            self.rhythm = other.rhythm;
        }
        self.note = format!("{}; {}", self.note, other.note);
        self
    }
}

/// What a breaker looks at.
pub struct Yard<'a> {
    pub circuit: &'a Circuit,
    /// Healthy still.
    pub vehicle: &'a Vehicle,
}

impl Yard<'_> {
    /// `component/mode` as a cause, if the file lists it.
    pub fn listed(&self, component: &str, mode: circuit::FaultMode) -> Vec<String> {
        let part = self.circuit.components.iter().find(|one| one.id == component);
        let listed = part.is_some_and(|part| part.faults.iter().any(|fault| fault.mode == mode));
        if listed { vec![cause(component, mode)] } else { Vec::new() }
    }

    pub fn is_inside(&self, component: &str) -> bool {
        self.circuit.modules.iter().any(|module| module.components.iter().any(|one| one == component))
    }
}

/// A cause as the engine names it.
pub fn cause(component: &str, mode: circuit::FaultMode) -> String {
    format!("{component}/{}", code(mode))
}

/// The name of a mode in the circuit files.
pub const fn code(mode: circuit::FaultMode) -> &'static str {
    use circuit::FaultMode as Mode;
    match mode {
        Mode::HighResistance => "high_resistance",
        Mode::Open => "open",
        Mode::ShortToGround => "short_to_ground",
        Mode::ShortToFeed => "short_to_feed",
        Mode::StuckOpen => "stuck_open",
        Mode::StuckClosed => "stuck_closed",
        Mode::Dead => "dead",
        Mode::NotCommanded => "not_commanded",
        Mode::Unresponsive => "unresponsive",
        Mode::Leaks => "leaks",
        Mode::AlwaysOn => "always_on",
        Mode::Weak => "weak",
        Mode::LowVoltage => "low_voltage",
        Mode::DrawsTooMuch => "draws_too_much",
        Mode::Jammed => "jammed",
        Mode::ShortAcross => "short_across",
        Mode::LowDuty => "low_duty",
    }
}
