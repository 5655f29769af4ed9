//! Circuits made of blocks with answers at random: a drawing or a list, never a panic, and soon.

use circuit::blocks::{Composition, loads};
use circuit::{Circuit, Meter, Observation, ObservedValue, Options, TestKind, diagnose};
use drawing::{Language, Plan, UPRIGHT, WIDE};
use proptest::prelude::*;
use serde_json::{Value, json};

use crate::search::{Moment, drawn};

fn composition(load: &str, (drive, leg, across, more): (usize, usize, usize, bool)) -> Value {
    let drive = ["module_feeds", "module_grounds", "switch_feeds", "switch_grounds"][drive];
    let by_module = drive.starts_with("module");
    let leg = match (drive, leg) {
        ("module_feeds" | "switch_feeds", 0) => json!({"on": "ground"}),
        ("module_feeds" | "switch_feeds", _) => json!({"on": "ground", "through": "range_switch"}),
        (_, 0) => json!({"on": "load_fuse"}),
        (_, 1) => json!({"on": "fuse"}),
        _ => json!({"on": "ignition"}),
    };
    let by = if load == "starter" { "ignition_start" } else { "control_switch" };
    let how = if by_module { "switch_to_feed" } else { "directly" };
    let across = ["nothing", "diode", "resistor"][across];
    let mut made = json!({
        "blocks": 1, "id": "tried", "version": 1, "load": {"listed": load}, "drive": drive, "leg": leg,
        "across": across,
        "requests": [{"id": "request", "by": by, "how": how}],
    });
    if by_module {
        made["module"] = json!({"listed": "body_module"});
        if more {
            made["requests"]
                .as_array_mut()
                .unwrap()
                .push(json!({"id": "bus", "by": "theft_release", "how": "over_the_bus"}));
        }
    }
    made
}

fn answers(circuit: &Circuit, chosen: &[(usize, f64, bool)]) -> Vec<Observation> {
    let of = |(number, (test, share, yes)): (usize, &(usize, f64, bool))| {
        let test = &circuit.tests[test % circuit.tests.len()];
        let value = match (test.kind(), yes) {
            (TestKind::Meter, _) => ObservedValue::Number(share * 13.0),
            (_, true) => ObservedValue::Yes,
            (_, false) => ObservedValue::No,
        };
        Observation::at(test, format!("{number}"), value, u32::try_from(number).unwrap())
    };
    chosen.iter().enumerate().map(of).collect()
}

proptest! {
    #![proptest_config(ProptestConfig { cases: cases(), failure_persistence: None, ..ProptestConfig::default() })]
    #[test]
    fn circuits_of_blocks_are_drawn(
        load in 0..10_usize,
        blocks in (0..4_usize, 0..3_usize, 0..3_usize, any::<bool>()),
        chosen in prop::collection::vec((0..200_usize, 0.0..1.0, any::<bool>()), 0..6),
        next in 0..200_usize,
    ) {
        let loads = loads().unwrap();
        let text = composition(&loads[load % loads.len()].id, blocks).to_string();
        // What doesn't fit together is refused elsewhere.
        let Ok(circuit) = Composition::from_json(&text).and_then(|made| made.circuit()) else { return Ok(()) };
        let observations = answers(&circuit, &chosen);
        let Ok(diagnosis) = diagnose(&circuit, &Meter::default(), &observations, &Options::default()) else {
            return Ok(());
        };
        let test = &circuit.tests[next % circuit.tests.len()];
        let moment = Moment { observations, diagnosis, next: Some(test.id.clone()), state: test.state.clone() };
        let plan = Plan::of(&circuit);
        for (language, width) in [(Language::English, UPRIGHT), (Language::Spanish, WIDE)] {
            let picture = drawn(&plan, &circuit, &moment, language, width);
            prop_assert!(picture.height.is_finite() && picture.height < 900.0, "{text}: {}", picture.height);
            prop_assert!(picture.drawn || !picture.listed.is_empty(), "{text}");
            let lead = |point: &Option<String>| point.as_ref().is_none_or(|point| {
                picture.eyes.iter().any(|eye| eye.point == *point) || picture.listed.iter().any(|listed| listed.points.contains(point))
            });
            prop_assert!(lead(&test.red) && lead(&test.black), "{text}: {}", test.id);
        }
    }
}

fn cases() -> u32 {
    if std::env::var("TESTIMETER_FULL").is_ok() { 400 } else { 40 }
}

/// A circuit without a battery can't be drawn: its points are listed.
#[test]
fn what_can_not_be_drawn_is_a_list() {
    let mut circuit = circuit::library::find("blower").unwrap();
    let diagnosis = diagnose(&circuit, &Meter::default(), &[], &Options::default()).unwrap();
    let test = circuit.tests.iter().find(|test| test.red.is_some()).unwrap().clone();
    circuit.components.retain(|part| part.id != "battery");
    let moment = Moment {
        observations: Vec::new(),
        diagnosis,
        next: Some(test.id.clone()),
        state: test.state.clone(),
    };
    let picture = drawn(&Plan::of(&circuit), &circuit, &moment, Language::English, UPRIGHT);
    assert!(!picture.drawn);
    let points = picture.listed.iter().filter(|listed| !listed.points.is_empty()).count();
    assert_eq!(points, circuit.points.iter().filter(|point| point.reachable).count());
    assert!(picture.listed.iter().any(|listed| listed.lead.is_some()));
    assert!(picture.listed.iter().any(|listed| listed.share > 0.03));
}
