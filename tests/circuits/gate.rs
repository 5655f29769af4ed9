//! The gate before a module stays shut whatever a program hands over, and no number of readings hides a contradiction.

use circuit::{
    Circuit, CircuitError, Doubt, EvidenceCode, Meter, MissingCode, Module, Observation, ObservedValue,
    Options, diagnose, library,
};

/// The circuit's own modules with one of them changed, as a program that skips the checker might hand it over.
fn changed(change: impl FnOnce(&mut Module)) -> Circuit {
    let mut circuit = library::find("relay_high_side").unwrap();
    change(&mut circuit.modules[0]);
    circuit
}

fn good(circuit: &Circuit, test: &str) -> Observation {
    let test = circuit.tests.iter().find(|known| known.id == test).unwrap();
    let value = test
        .limits
        .as_ref()
        .map_or(ObservedValue::Yes, |limits| ObservedValue::Number(limits.min.or(limits.max).unwrap()));
    Observation::at(test, test.id.clone(), value, 1)
}

/// Such a circuit is no longer weighed at all.
fn refused(circuit: &Circuit) {
    let error = diagnose(circuit, &Meter::default(), &[], &Options::default()).unwrap_err();
    let named = matches!(&error, CircuitError::Invalid { place, .. } if place.starts_with("modules/"));
    assert!(named, "{error}");
}

fn missing(circuit: &Circuit, seen: &[Observation]) -> Vec<MissingCode> {
    let found = diagnose(circuit, &Meter::default(), seen, &Options::default()).unwrap();
    assert!(!found.modules[0].may_be_called);
    found.modules[0].missing.iter().map(|missing| missing.code).collect()
}

#[test]
fn an_inspection_the_circuit_does_not_have_is_refused() {
    let circuit = changed(|module| "no_such_test".clone_into(&mut module.inspection));
    refused(&circuit);
}

#[test]
fn evidence_that_asks_for_no_look_is_refused() {
    let circuit = changed(|module| {
        let supply = module.evidence.iter_mut().find(|need| need.code == EvidenceCode::Supply);
        supply.unwrap().looks = 0;
    });
    refused(&circuit);
}

#[test]
fn a_test_listed_twice_is_one_look() {
    let circuit = changed(|module| {
        let input = module.evidence.iter_mut().find(|need| need.code == EvidenceCode::Input).unwrap();
        input.tests = vec!["module_input".to_owned(); 2];
    });
    let seen = [good(&circuit, "module_input")];
    assert!(missing(&circuit, &seen).contains(&MissingCode::InputNotObserved));
}

/// Readings that contradict each other are named, however many others were taken before them.
#[test]
fn a_contradiction_after_many_readings_is_named() {
    let circuit = library::find("relay_high_side").unwrap();
    let test = |id: &str| circuit.tests.iter().find(|test| test.id == id).unwrap();
    let (before, again) = (test("relay_feed_open"), test("control_loaded"));
    let feed = (0..140).map(|i| Observation::at(before, format!("feed {i}"), ObservedValue::Number(12.5), i));
    let pair = [("low", 3.0, 140), ("high", 12.3, 141)];
    let pair = pair.map(|(id, volts, placement)| {
        Observation::at(again, id.to_owned(), ObservedValue::Number(volts), placement)
    });
    let seen: Vec<Observation> = feed.chain(pair).collect();
    let found = diagnose(&circuit, &Meter::default(), &seen, &Options::default()).unwrap();
    let named = |doubt: &Doubt| doubt.observations == ["low", "high"];
    assert!(found.doubts.iter().any(named), "{:?}", found.doubts);
}

/// Decision 20: past the terminals, after the look, is the failing reading taken again: of the same output, with the leads placed
/// anew, and only where it failed at the terminals too.
#[test]
fn past_the_terminals_is_the_failing_reading_again() {
    let circuit = library::find("relay_high_side").unwrap();
    let not_repeated = |steps: &[(&str, u32)]| {
        let test = |id: &str| circuit.tests.iter().find(|test| test.id == id).unwrap();
        let take = |(i, (id, placement)): (usize, &(&str, u32))| {
            let look = test(id).question.is_some();
            let value = if look { ObservedValue::No } else { ObservedValue::Number(0.1) };
            Observation::at(test(id), format!("{i} {id}"), value, *placement)
        };
        let seen: Vec<Observation> = steps.iter().enumerate().map(take).collect();
        missing(&circuit, &seen).contains(&MissingCode::FailingReadingNotRepeated)
    };
    let (at, past, look) = ("module_output_loaded", "module_output_bypass", "module_connector_look");
    assert!(!not_repeated(&[(at, 1), (look, 2), (past, 3)]), "once at, once past after the look");
    assert!(!not_repeated(&[(past, 1), (look, 2), (at, 3)]), "once past, once at after the look");
    assert!(!not_repeated(&[(at, 1), (look, 2), (at, 3)]), "the same twice");
    assert!(!not_repeated(&[(look, 1), (at, 2), (past, 3)]), "both after the look");
    assert!(not_repeated(&[(look, 1), (past, 2)]), "past the terminals alone");
    assert!(not_repeated(&[(at, 1), (past, 2), (look, 3)]), "neither after the look");
    assert!(not_repeated(&[(at, 1), (look, 2), (past, 1)]), "leads left in place");
    // Another output of the module says nothing of this one.
    let mut other = circuit.clone();
    let place = other.tests.iter().position(|test| test.id == past).unwrap();
    other.tests[place].red = Some("s86".to_owned());
    let seen: Vec<Observation> = [(at, 1), (look, 2), (past, 3)]
        .iter()
        .map(|(id, placement)| {
            let test = other.tests.iter().find(|test| test.id == *id).unwrap();
            let value = if test.question.is_some() { ObservedValue::No } else { ObservedValue::Number(0.1) };
            Observation::at(test, (*id).to_owned(), value, *placement)
        })
        .collect();
    assert!(missing(&other, &seen).contains(&MissingCode::FailingReadingNotRepeated));
}
