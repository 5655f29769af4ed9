//! Over-limit in a range that was chosen by hand means "more than this range shows", and no more.

use circuit::{
    Circuit, Diagnosis, EvidenceCode, MeasureMode, Meter, MissingCode, Observation, ObservedValue, Options,
    diagnose, library,
};

use crate::posterior::reading;

fn ask(circuit: &Circuit, seen: &[Observation]) -> Diagnosis {
    diagnose(circuit, &Meter::default(), seen, &Options { look_alikes: 0.0, ..Options::default() }).unwrap()
}

fn share(found: &Diagnosis, id: &str) -> f64 {
    found.causes.iter().find(|cause| cause.id == id).unwrap().probability
}

fn over(circuit: &Circuit, test: &str, range: Option<f64>) -> Observation {
    let test = circuit.tests.iter().find(|known| known.id == test).unwrap();
    Observation { range, ..Observation::at(test, "over", ObservedValue::OverLimit, 1) }
}

/// A coil of 75 ohm shows over-limit in a range of 20 ohm, whole or open: nothing is learned of it. In a range of 200 ohm it
/// would have shown 75.
#[test]
fn a_whole_coil_over_a_small_range_isnt_open() {
    let circuit = library::find("relay_high_side").unwrap();
    let odds = |seen: &[Observation]| {
        let found = ask(&circuit, seen);
        share(&found, "coil/open") / share(&found, "wire_control/open")
    };
    let before = odds(&[]);
    let small = odds(&[over(&circuit, "coil_ohms", Some(20.0))]);
    assert!((small / before - 1.0).abs() < 1e-6, "{before} {small}");
    for fits in [Some(200.0), None] {
        let large = odds(&[over(&circuit, "coil_ohms", fits)]);
        assert!(large / before > 20.0, "{fits:?}: {before} {large}");
    }
    // A coil that draws too much has less than 20 ohm in part of its range: that part is out.
    let drawing = |seen: &[Observation]| share(&ask(&circuit, seen), "coil/draws_too_much");
    assert!(drawing(&[over(&circuit, "coil_ohms", Some(20.0))]) < drawing(&[]));
}

/// Volts have no over-limit of their own; with a range they have. Enumerated by hand for two wires and a lamp of 6 ohm: more
/// than 2 V at the lamp's feed is what every fault but those of the feed wire leaves there, and what a bad feed wire leaves up
/// to a resistance of 12.6 V/2 V × 6 ohm.
#[test]
fn volts_beyond_a_range_are_more_than_that() {
    let circuit = Circuit::from_json(include_str!("two_wires.json")).unwrap();
    let seen = |range| Observation {
        value: ObservedValue::OverLimit,
        range,
        ..reading("over", "lamp_in", "ground", 0.0, 1)
    };
    let odds = |found: &Diagnosis, id: &str| share(found, id) / share(found, "lamp/open");
    let (before, after) = (ask(&circuit, &[]), ask(&circuit, &[seen(Some(2.0))]));
    let least = 0.02 * 0.25;
    let gone = least / (1.0 - 0.02 + least);
    let open = odds(&after, "feed_wire/open") / odds(&before, "feed_wire/open");
    assert!((open - gone).abs() < 1e-6, "{open} {gone}");
    let high = odds(&after, "feed_wire/high_resistance") / odds(&before, "feed_wire/high_resistance");
    // The lamp is dark below 8 V, from 3.43 ohm on; those above the limit where 2 V are left are out. Log-uniform; a lit lamp
    // that was called dark, 2 in 100, counts for as little.
    let dark_from = (12.6 / 8.0) * 6.0 - 6.0 - 0.12;
    let out_from: f64 = (12.6 / 2.0) * 6.0 - 6.0 - 0.12;
    // 4 in 100 lie below the file's range, lit, and 4 above it, dark and out.
    let share = |from: f64, to: f64| 0.92 * (to / from).ln() / (5000.0_f64 / 0.5).ln();
    let lit = (0.04 + share(0.5, dark_from)) * 0.02;
    let dark = (share(dark_from, 5000.0) + 0.04) * 0.98;
    let kept = lit + share(dark_from, out_from) * 0.98;
    let by_hand = (kept + (share(out_from, 5000.0) + 0.04) * 0.98 * gone) / (lit + dark);
    assert!((high / by_hand - 1.0).abs() < 0.01, "{high} {by_hand}");
    let error = |seen: Observation| {
        diagnose(&circuit, &Meter::default(), &[seen], &Options { look_alikes: 0.0, ..Options::default() })
            .unwrap_err()
            .to_string()
    };
    assert!(error(seen(None)).contains("range"));
    assert!(error(seen(Some(0.0))).contains("above zero"));
    let number = Observation { value: ObservedValue::Number(12.0), ..seen(Some(2.0)) };
    assert!(error(number).contains("higher than its range"));
}

/// What is beyond a limit is bad only where the range reaches that limit.
#[test]
fn the_gate_takes_no_small_range_for_a_bad_reading() {
    let mut looked_at = 0;
    for circuit in library::all().unwrap() {
        let needs = circuit.modules.iter().flat_map(|module| &module.evidence);
        let ohms = |id: &String| {
            let test = circuit.tests.iter().find(|test| test.id == *id).unwrap();
            let limits = test.limits.as_ref().filter(|_| test.mode == MeasureMode::Ohms)?;
            limits.max.map(|max| (test.id.clone(), max))
        };
        let alone = needs.filter(|need| need.code == EvidenceCode::Harness && need.tests.len() == 1);
        for (test, max) in alone.flat_map(|need| &need.tests).filter_map(ohms) {
            looked_at += 1;
            let missing = |range: f64| {
                let found = ask(&circuit, &[over(&circuit, &test, Some(range))]);
                let all =
                    found.modules.iter().flat_map(|module| module.missing.iter().map(|missing| missing.code));
                all.collect::<Vec<_>>()
            };
            let (small, large) = (missing(max / 3.0), missing(max * 3.0));
            assert!(
                small.contains(&MissingCode::HarnessNotObserved)
                    && !small.contains(&MissingCode::HarnessNotGood)
            );
            assert!(large.contains(&MissingCode::HarnessNotGood), "{}: {test}", circuit.id);
        }
    }
    assert!(looked_at > 0, "{looked_at}");
}

/// Files and records from before there were ranges read as they always did.
#[test]
fn observations_without_a_range_still_read() {
    let circuit = library::find("relay_high_side").unwrap();
    let seen = over(&circuit, "coil_ohms", None);
    let mut value = serde_json::to_value(&seen).unwrap();
    value.as_object_mut().unwrap().remove("range");
    assert_eq!(serde_json::from_value::<Observation>(value).unwrap(), seen);
}
