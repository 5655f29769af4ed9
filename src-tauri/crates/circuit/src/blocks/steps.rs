//! How a test of a block is written down: state, cautions, limits with their sources.

use crate::blocks::draft::{Draft, state};
use crate::blocks::phrases::say;
use crate::file::observation::{MeasureMode, State};
use crate::file::procedure::{Behavior, Limits, Question, Required, Requirement, Test};
use crate::file::text::Text;

pub(super) const DROP: &str =
    "drop above 1.0 V is worth a search (several vehicle makers' voltage-drop pages, seen)";
pub(super) const GROUND_DROP: &str = "ground drop 0.1 V (common practice, no standard found)";
const CRANKING: &str =
    "9.6 V at the battery while cranking (common practice), less 0.6 V on the way (judgement)";
pub(super) const JUDGMENT: &str = "judgement";

/// Work at the battery, at a module's connector, with a lead at a pin: codes of `job::cautions`.
pub(super) const BATTERY: &str = "battery";
pub(super) const MODULE: &str = "module_handling";
pub(super) const LEAD: &str = "jumping_a_pin";

impl Draft<'_> {
    /// Everything that has to ask does; what is in its usual position is left out.
    pub(super) fn asked(&self) -> State {
        let mut asked = state(&[("key", "on")]);
        for (variable, values) in self.asked_when() {
            let usual = self.usual(&variable);
            if let (false, Some(first)) = (values.contains(&usual), values.first()) {
                asked.insert(variable, first.clone());
            }
        }
        asked
    }

    /// Usual position of a variable.
    fn usual(&self, variable: &str) -> String {
        let own = self.requests.iter().filter_map(|one| one.switch.variable.as_ref());
        let known = own.filter(|own| own.id == variable).map(|own| own.default.clone()).next();
        known.unwrap_or_else(|| if variable == "range" { "park".to_owned() } else { "off".to_owned() })
    }

    /// Everything asked for, with some variables in other positions.
    pub(super) fn asked_but(&self, others: &[(&str, &str)]) -> State {
        let mut asked = self.asked();
        asked.extend(state(others));
        asked
    }

    /// What is to be read at a good feed. `works` = the load may work meanwhile.
    pub(super) fn fed(&self, works: bool) -> Option<Limits> {
        if works && self.sags() { least(9.0, CRANKING) } else { least(11.4, DROP) }
    }

    /// What is to be read across the load or a coil's stand-in.
    pub(super) fn across(&self, works: bool) -> Option<Limits> {
        if works && self.sags() { least(9.0, CRANKING) } else { least(11.0, DROP) }
    }

    /// Cautions of a test during which the load may work.
    pub(super) fn careful(&self, more: &[&str]) -> Vec<String> {
        let more = more.iter().map(|code| (*code).to_owned());
        more.chain(self.load.cautions.iter().cloned()).collect()
    }
}

pub(super) fn least(min: f64, source: &str) -> Option<Limits> {
    Some(Limits { min: Some(min), max: None, source: source.to_owned() })
}

pub(super) fn most(max: f64, source: &str) -> Option<Limits> {
    Some(Limits { min: None, max: Some(max), source: source.to_owned() })
}

pub(super) fn between(min: f64, max: f64, source: &str) -> Option<Limits> {
    Some(Limits { min: Some(min), max: Some(max), source: source.to_owned() })
}

pub(super) fn codes(list: &[&str]) -> Vec<String> {
    list.iter().map(|code| (*code).to_owned()).collect()
}

pub(super) fn good(test: &str) -> Requirement {
    Requirement { test: test.to_owned(), result: Required::Good }
}

pub(super) fn done(test: &str) -> Requirement {
    Requirement { test: test.to_owned(), result: Required::Done }
}

/// A reading in volts; other modes change that one field.
pub(super) fn volts(id: &str, name: Text, (red, black): (&str, &str), state: State, minutes: f64) -> Test {
    let test = Test::blank(id, name, MeasureMode::VoltsDc, state, minutes);
    Test { red: Some(red.to_owned()), black: Some(black.to_owned()), ..test }
}

pub(super) fn ohms(id: &str, name: Text, leads: (&str, &str), state: State, minutes: f64) -> Test {
    Test { mode: MeasureMode::Ohms, ..volts(id, name, leads, state, minutes) }
}

pub(super) fn look(
    id: &str,
    name: Text,
    components: Vec<String>,
    state: State,
    minutes: f64,
    miss: f64,
) -> Test {
    let test = Test::blank(id, name, MeasureMode::Look, state, minutes);
    let false_alarm = match id {
        "fuses_look" => 0.01,
        "module_connector_look" => 0.03,
        _ => 0.05,
    };
    Test {
        question: Some(Question { behavior: Behavior::DamageSeen { components }, miss, false_alarm }),
        ..test
    }
}

pub(super) fn ask(
    id: &str,
    name: Text,
    behavior: Behavior,
    (miss, false_alarm): (f64, f64),
    state: State,
    minutes: f64,
) -> Test {
    let test = Test::blank(id, name, MeasureMode::YesNo, state, minutes);
    Test { question: Some(Question { behavior, miss, false_alarm }), ..test }
}

/// Two phrases with something between, in both languages.
pub(super) fn with(before: (&str, &str), middle: &Text, after: (&str, &str)) -> Text {
    say(format!("{}{}{}", before.0, middle.en, after.0), format!("{}{}{}", before.1, middle.es, after.1))
}
