//! A beep instead of ohms: less than the meter's threshold, and no more.

use circuit::{
    Circuit, Diagnosis, MeasureMode, Meter, Observation, ObservedValue, Options, diagnose, library,
};

fn beep(circuit: &Circuit, test: &str, value: ObservedValue) -> Observation {
    let test = circuit.tests.iter().find(|known| known.id == test).unwrap();
    Observation { mode: MeasureMode::Continuity, ..Observation::at(test, "one", value, 1) }
}

fn ask(circuit: &Circuit, meter: &Meter, seen: &[Observation]) -> Diagnosis {
    diagnose(circuit, meter, seen, &Options { look_alikes: 0.0, ..Options::default() }).unwrap()
}

/// A relay coil of 75 ohm: whole or open it stays silent, so that silence says nothing; to a meter that beeps up to 200 ohm it
/// beeps while it is whole. What is wrong by a hair never counts for more than one in twenty-four (0.04 and 0.96).
#[test]
fn a_beep_says_less_than_the_threshold_and_no_more() {
    let circuit = library::find("relay_high_side").unwrap();
    let driver = circuit.modules[0].components.iter().find(|id| id.contains("driver")).unwrap().clone();
    let share =
        |found: &Diagnosis, id: &str| found.causes.iter().find(|cause| cause.id == id).unwrap().probability;
    let ratio = |found: &Diagnosis| share(found, "coil/open") / share(found, &format!("{driver}/dead"));
    let ordinary = Meter::default();
    let before = ratio(&ask(&circuit, &ordinary, &[]));
    let silent = ratio(&ask(&circuit, &ordinary, &[beep(&circuit, "coil_ohms", ObservedValue::No)]));
    assert!((silent / before - 1.0).abs() < 1e-6, "{before} {silent}");
    let far = Meter { beep_ohms: 200.0, ..Meter::default() };
    let silent = ratio(&ask(&circuit, &far, &[beep(&circuit, "coil_ohms", ObservedValue::No)]));
    let beeps = ratio(&ask(&circuit, &far, &[beep(&circuit, "coil_ohms", ObservedValue::Yes)]));
    assert!((silent / before - 0.96 / 0.04).abs() < 0.01, "{}", silent / before);
    assert!((beeps / before - 0.04 / 0.96).abs() < 0.001, "{}", beeps / before);
}

#[test]
fn a_beep_is_no_number_and_no_file_asks_for_it() {
    let circuit = library::find("relay_high_side").unwrap();
    let refused = |value: ObservedValue| {
        let seen = beep(&circuit, "coil_ohms", value);
        diagnose(&circuit, &Meter::default(), &[seen], &Options::default()).is_err()
    };
    assert!(refused(ObservedValue::Number(3.0)) && refused(ObservedValue::OverLimit));
    assert!(!refused(ObservedValue::Yes));
    let meter = Meter { beep_ohms: 0.0, ..Meter::default() };
    assert!(diagnose(&circuit, &meter, &[], &Options::default()).is_err());
    let mut asks = circuit.clone();
    let at = asks.tests.iter().position(|test| test.id == "coil_ohms").unwrap();
    asks.tests[at].mode = MeasureMode::Continuity;
    let problems = circuit::check::check(&serde_json::to_string(&asks).unwrap()).unwrap_err();
    assert!(problems.iter().any(|problem| problem.remedy.contains("beep")), "{problems:?}");
}
