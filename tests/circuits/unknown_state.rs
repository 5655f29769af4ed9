//! A reading whose state nobody wrote down: every position counts, each with the same chance, and no test is done by it.

use circuit::{
    Circuit, Diagnosis, EvidenceCode, FaultMode, MeasureMode, Meter, MissingCode, Observation, ObservedValue,
    Options, Present, State, UNKNOWN, diagnose, library, solve,
};

use crate::bench::{Bench, fault};

fn ask(circuit: &Circuit, seen: &[Observation]) -> Diagnosis {
    diagnose(circuit, &Meter::default(), seen, &Options { look_alikes: 0.0, ..Options::default() }).unwrap()
}

fn state(entries: &[(&str, &str)]) -> State {
    entries.iter().map(|(variable, value)| ((*variable).to_owned(), (*value).to_owned())).collect()
}

fn shares(found: &Diagnosis) -> Vec<(String, f64)> {
    let mut all: Vec<(String, f64)> =
        found.causes.iter().map(|cause| (cause.id.clone(), cause.probability)).collect();
    all.push(("unmodelled".to_owned(), found.unmodeled));
    all.sort_by(|left, right| left.0.cmp(&right.0));
    all
}

/// The total probability over the states, with the weight of each state by Bayes' rule from its own diagnosis: what a cause
/// outside the circuit makes of the answer is known by hand (half of such faults leave it as it is, half make it anything),
/// so the evidence of a state is that over what is left for it.
fn mixture(circuit: &Circuit, seen: &[(Observation, f64)]) -> Vec<(String, f64)> {
    let mut all: Vec<(String, f64)> = Vec::new();
    let mut total = 0.0;
    for (observation, of_unmodeled) in seen {
        let found = ask(circuit, std::slice::from_ref(observation));
        let of_pairs: f64 = found.pairs.iter().map(|pair| pair.probability).sum();
        // What pairs take is missing from both sides alike, up to their own share.
        assert!(of_pairs < 3e-3, "{of_pairs}");
        let weight = of_unmodeled / found.unmodeled;
        total += weight;
        for (i, (id, share)) in shares(&found).into_iter().enumerate() {
            match all.get_mut(i) {
                Some(entry) => entry.1 += weight * share,
                None => all.push((id, weight * share)),
            }
        }
    }
    all.iter_mut().for_each(|(_, share)| *share /= total);
    all
}

#[test]
fn an_answer_without_its_state_is_the_average_over_the_states() {
    let circuit = library::find("relay_high_side").unwrap();
    let test = circuit.tests.iter().find(|test| test.id == "relay_clicks").unwrap();
    let question = test.question.as_ref().unwrap();
    for (value, answer) in [(ObservedValue::No, false), (ObservedValue::Yes, true)] {
        let at = |key: &str, relay: &str| Observation {
            state: state(&[("key", key), ("request", "on"), ("relay", relay)]),
            ..Observation::at(test, "one", value, 1)
        };
        let known = |key: &str, relay: &str| {
            let clicks = solve(&circuit, &at(key, relay).state, &[], None).unwrap().working["coil"];
            let yes = if clicks { 1.0 - question.miss } else { question.false_alarm };
            let as_healthy = if answer { yes } else { 1.0 - yes };
            (at(key, relay), 0.5 * as_healthy + 0.5 * 0.5)
        };
        let one: Vec<_> = ["off", "on", "crank", "running"].map(|key| known(key, "fitted")).into();
        same(&shares(&ask(&circuit, &[at(UNKNOWN, "fitted")])), &mixture(&circuit, &one), 1e-9);
        let two: Vec<_> = ["off", "on", "crank", "running"]
            .iter()
            .flat_map(|key| ["fitted", "removed", "spare", "bridged"].map(|relay| known(key, relay)))
            .collect();
        same(&shares(&ask(&circuit, &[at(UNKNOWN, UNKNOWN)])), &mixture(&circuit, &two), 1e-9);
    }
}

/// The same for a reading: far from what a healthy circuit shows in any of the states, so that a cause outside the circuit
/// makes the same of it in all of them.
#[test]
fn a_reading_without_its_state_is_the_average_over_the_states() {
    let circuit = library::find("relay_high_side").unwrap();
    let at = |relay: &str| Observation {
        id: "one".to_owned(),
        mode: MeasureMode::Ohms,
        red: Some("s86".to_owned()),
        black: Some("s85".to_owned()),
        value: ObservedValue::Number(1234.0),
        state: state(&[("relay", relay), ("key", "off"), ("module", "unplugged")]),
        complaint: Present::Yes,
        placement: 1,
        ..Observation::default()
    };
    let known: Vec<_> = ["fitted", "removed", "spare", "bridged"].map(|relay| (at(relay), 1.0)).into();
    same(&shares(&ask(&circuit, &[at(UNKNOWN)])), &mixture(&circuit, &known), 1e-3);
}

fn same(ours: &[(String, f64)], exact: &[(String, f64)], within: f64) {
    for (ours, exact) in ours.iter().zip(exact) {
        assert_eq!(ours.0, exact.0);
        assert!((ours.1 - exact.1).abs() < within, "{ours:?} {exact:?}");
    }
}

/// Left out is the usual position, as it always was: key off. The same volts mean something else then, so that a state nobody
/// knows must be said to be unknown.
#[test]
fn left_out_isnt_unknown() {
    let circuit = library::find("relay_high_side").unwrap();
    let test = circuit.tests.iter().find(|test| test.id == "control_loaded").unwrap();
    let seen = |state: State| {
        [Observation { state, ..Observation::at(test, "one", ObservedValue::Number(0.02), 1) }]
    };
    let left_out = ask(&circuit, &seen(State::new()));
    let usual = ask(&circuit, &seen(state(&[("key", "off"), ("request", "off"), ("relay", "fitted")])));
    assert_eq!(shares(&left_out), shares(&usual));
    let unknown = ask(&circuit, &seen(state(&[("key", UNKNOWN), ("request", UNKNOWN)])));
    let known = ask(&circuit, &seen(test.state.clone()));
    let leading = |found: &Diagnosis| found.causes[0].probability;
    assert!(leading(&unknown) < leading(&known), "{} {}", leading(&unknown), leading(&known));
}

/// What plays no part for a reading may stay unknown without a loss.
#[test]
fn what_plays_no_part_may_be_unknown() {
    let circuit = library::find("starter_power").unwrap();
    let mut bench = Bench::new(&circuit, fault("ground_stud", FaultMode::HighResistance, 0.02));
    bench.take("battery_cranking");
    let known = bench.diagnosis();
    for variable in &circuit.variables {
        let same_everywhere = variable.values.iter().all(|value| {
            let mut seen = bench.observations.clone();
            seen[0].state.insert(variable.id.clone(), value.id.clone());
            shares(&ask(&circuit, &seen)) == shares(&known)
        });
        let mut seen = bench.observations.clone();
        seen[0].state.insert(variable.id.clone(), UNKNOWN.to_owned());
        let found = ask(&circuit, &seen);
        assert!(!same_everywhere || shares(&found) == shares(&known), "{}", variable.id);
    }
}

/// The gate takes no reading as a test done whose state nobody knows.
#[test]
fn the_gate_wants_known_states() {
    let circuit = library::find("relay_high_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("driver", FaultMode::Dead, 0.0));
    let tests = ["module_feed", "module_ground", "module_input", "scan_request", "module_output_loaded"];
    for test in tests.into_iter().chain(["module_feed"]) {
        bench.take(test);
    }
    let missing = |found: &Diagnosis| -> Vec<MissingCode> {
        found.modules[0].missing.iter().map(|missing| missing.code).collect()
    };
    assert!(!missing(&bench.diagnosis()).contains(&MissingCode::SupplyNotObserved));
    let supply =
        &circuit.modules[0].evidence.iter().find(|need| need.code == EvidenceCode::Supply).unwrap().tests[0];
    let place = bench.observations.iter().position(|seen| seen.test.as_ref() == Some(supply)).unwrap();
    for seen in bench.observations.iter_mut().filter(|seen| seen.test.as_ref() == Some(supply)) {
        seen.state.insert("key".to_owned(), UNKNOWN.to_owned());
    }
    let found = bench.diagnosis();
    assert!(missing(&found).contains(&MissingCode::SupplyNotObserved));
    assert!(found.expected.iter().all(|expected| expected.observation != bench.observations[place].id));
    assert!(!found.withheld_tests.iter().any(|withheld| withheld.test == *supply));
}

/// Two faults, the same readings: pairs are weighed with the unknown state too, and what is asked for too much is refused.
#[test]
fn pairs_and_limits() {
    let circuit = library::find("relay_high_side").unwrap();
    let test = |id: &str| circuit.tests.iter().find(|test| test.id == id).unwrap();
    let mut seen = vec![
        Observation::at(test("fan_feed"), "feed", ObservedValue::Number(7.0), 1),
        Observation::at(test("ground_85"), "ground", ObservedValue::Number(3.1), 2),
        Observation::at(test("module_feed"), "module", ObservedValue::Number(12.1), 3),
    ];
    let known = ask(&circuit, &seen);
    seen[2].state.insert("relay".to_owned(), UNKNOWN.to_owned());
    let unknown = ask(&circuit, &seen);
    assert_eq!(known.pairs.is_empty(), unknown.pairs.is_empty());
    let total: f64 = shares(&unknown).iter().map(|(_, share)| share).sum::<f64>()
        + unknown.pairs.iter().map(|pair| pair.probability).sum::<f64>();
    assert!((total - 1.0).abs() < 1e-6, "{total}");
    for variable in &circuit.variables {
        seen[2].state.insert(variable.id.clone(), UNKNOWN.to_owned());
    }
    let error =
        diagnose(&circuit, &Meter::default(), &seen, &Options { look_alikes: 0.0, ..Options::default() })
            .unwrap_err()
            .to_string();
    assert!(error.contains("module") && error.contains("64 states"), "{error}");
}
