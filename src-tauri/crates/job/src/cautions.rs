//! When a caution has to be read: codes only, the words live with the report and the screens.
//!
//! The app never prints a number where makers' numbers differ (air-bag waiting times), and every screen that
//! advises ends in [`COMES_FIRST`].

use std::collections::{BTreeMap, BTreeSet};

/// Work at the battery.
pub const BATTERY: &str = "battery";
/// Cranking the engine.
pub const CRANKING: &str = "cranking";
/// Fans, belts and motors that may start.
pub const MOVING_PARTS: &str = "moving_parts";
/// Feeding or grounding a pin with a test lead, or loading it.
pub const JUMPING_A_PIN: &str = "jumping_a_pin";
/// Air bags and belt pretensioners.
pub const AIR_BAG: &str = "air_bag";
/// Orange cables.
pub const HIGH_VOLTAGE: &str = "high_voltage";
/// Fuel: vapour, sparks, pressure in the lines.
pub const FUEL_VAPOUR: &str = "fuel_vapour";
/// Unplugging or swapping a control module.
pub const MODULE_HANDLING: &str = "module_handling";
/// The maker's information, local codes and licensed judgement come first.
pub const COMES_FIRST: &str = "comes_first";

/// A caution with its source.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Caution {
    /// Code.
    pub code: &'static str,
    /// Source and its status.
    pub source: &'static str,
}

/// Every caution, in the order they are shown.
pub const ALL: [Caution; 9] = [
    Caution {
        code: HIGH_VOLTAGE,
        source: "60 V DC and 30 V AC limit: published safety rules; rest common practice",
    },
    Caution { code: AIR_BAG, source: "common practice; waiting time only from the maker" },
    Caution { code: CRANKING, source: "common practice, no source" },
    Caution { code: MOVING_PARTS, source: "common practice, no source" },
    Caution { code: FUEL_VAPOUR, source: "common practice, no source" },
    Caution { code: BATTERY, source: "workers' safety commission guidance on batteries (wscc.nt.ca)" },
    Caution { code: JUMPING_A_PIN, source: "common practice, no source" },
    Caution { code: MODULE_HANDLING, source: "ANSI/ESD S20.20 for touching ground; rest common practice" },
    Caution { code: COMES_FIRST, source: "house rule" },
];

/// Something the technician is about to do.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord)]
pub enum Doing {
    /// Clamps off or on, or measuring at the battery posts.
    WorkAtBattery,
    /// Cranking, or asking somebody to.
    Crank,
    /// A fused lead or a substitute load at a pin.
    JumpPin,
    /// A plug of a control module off or on.
    UnplugModule,
    /// Another module in.
    SwapModule,
    /// Programming: long charger connection, key cycles.
    ProgramModule,
    /// Near yellow connectors.
    NearAirBag,
    /// Near orange cables.
    NearHighVoltage,
}

/// Codes of the cautions that something needs, in the order of [`ALL`].
pub fn needed(doing: Doing) -> &'static [&'static str] {
    match doing {
        Doing::WorkAtBattery | Doing::ProgramModule => &[BATTERY],
        Doing::Crank => &[CRANKING],
        Doing::JumpPin => &[JUMPING_A_PIN],
        Doing::UnplugModule | Doing::SwapModule => &[BATTERY, MODULE_HANDLING],
        Doing::NearAirBag => &[AIR_BAG],
        Doing::NearHighVoltage => &[HIGH_VOLTAGE],
    }
}

/// Cautions of one test: those its circuit file names, and those its state and load imply even if the file
/// forgot them. `state` maps a variable to its value ("key" to "crank").
pub fn of_test(named: &[String], state: &BTreeMap<String, String>, loaded: bool) -> Vec<String> {
    let cranking = state.values().any(|value| matches!(value.as_str(), "crank" | "cranking"));
    let implied = [(cranking, CRANKING), (loaded, JUMPING_A_PIN)];
    let implied = implied.into_iter().filter(|(holds, _)| *holds).map(|(_, code)| code.to_owned());
    let all: BTreeSet<String> = named.iter().cloned().chain(implied).collect();
    in_order(all)
}

/// May a harness be wiggled during a test with these cautions? Not near what turns, sparks or fires.
pub fn allow_wiggling(codes: &[String]) -> bool {
    codes.iter().all(|code| code == BATTERY || code == MODULE_HANDLING)
}

/// Whether a code is one of ours; a circuit file with another one is refused.
pub fn is_known(code: &str) -> bool {
    ALL.iter().any(|caution| caution.code == code)
}

/// Known codes in the order of [`ALL`], then the others, so that none is lost.
fn in_order(mut codes: BTreeSet<String>) -> Vec<String> {
    let known = ALL.iter().filter_map(|caution| codes.take(caution.code));
    let mut ordered: Vec<String> = known.collect();
    ordered.extend(codes);
    ordered
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn cranking_and_loads_bring_their_cautions_even_if_the_file_forgot() {
        let state = BTreeMap::from([("key".to_owned(), "crank".to_owned())]);
        assert_eq!(of_test(&["battery".into()], &state, true), [CRANKING, BATTERY, JUMPING_A_PIN]);
        assert_eq!(of_test(&["cranking".into()], &state, false), [CRANKING]);
        assert!(of_test(&[], &BTreeMap::new(), false).is_empty());
    }

    #[test]
    fn circuits_name_known_cautions_only() {
        for circuit in circuit::library::all().unwrap() {
            for test in &circuit.tests {
                assert!(test.cautions.iter().all(|code| is_known(code)), "{} {}", circuit.id, test.id);
            }
        }
    }
}
