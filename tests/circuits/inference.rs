//! Single claims about the inference: meters, pins, the shop's own jobs, money, frozen results.

use std::collections::BTreeMap;

use circuit::{Cheaper, Diagnosis, FaultMode, Meter, ModulePrice, Options, UnknownPins, diagnose, library};

use crate::bench::{Bench, fault};

fn probability(found: &Diagnosis, id: &str) -> f64 {
    found.causes.iter().find(|cause| cause.id == id).unwrap().probability
}

/// A second meter has a gain of its own: it tells more than the same meter placed anew.
#[test]
fn a_second_meter_counts_for_more() {
    let circuit = library::find("relay_high_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("wire_control", FaultMode::HighResistance, 150.0));
    bench.take("control_loaded");
    bench.take("control_loaded");
    let options = Options {
        meters: vec![Meter { name: "second meter".to_owned(), ..Meter::default() }],
        ..Options::default()
    };
    let ask = |observations: &[circuit::Observation]| {
        diagnose(&circuit, &Meter::default(), observations, &options).unwrap()
    };
    let width = |found: &Diagnosis| {
        let cause = found.causes.iter().find(|cause| cause.id == "wire_control/high_resistance").unwrap();
        let severity = cause.severity.unwrap();
        severity.high / severity.low
    };
    let same = ask(&bench.observations);
    bench.observations[1].meter = Some("second meter".to_owned());
    let second = ask(&bench.observations);
    assert!(width(&second) < width(&same), "{} {}", width(&second), width(&same));
    bench.observations[1].meter = Some("nobody's".to_owned());
    assert!(diagnose(&circuit, &Meter::default(), &bench.observations, &options).is_err());
}

/// Two pins of the module's connector swapped in the diagram: readings at pins find pin-out and fault together.
#[test]
fn pins_in_doubt_are_found_with_the_fault() {
    let circuit = library::find("relay_high_side").unwrap();
    let connector = circuit
        .connectors
        .iter()
        .find(|connector| connector.pins.iter().any(|pin| pin.point == "mod_feed"))
        .expect("the module has a connector");
    let number = |point: &str| connector.pins.iter().find(|pin| pin.point == point).unwrap().number.clone();
    let (feed, ground, output) = (number("mod_feed"), number("mod_ground"), number("mod_out"));
    let mut bench = Bench::new(&circuit, fault("wire_control", FaultMode::HighResistance, 150.0));
    for test in ["module_feed", "module_ground", "module_output_loaded", "control_loaded"] {
        bench.take(test);
    }
    // In this vehicle feed and output sit on each other's pins.
    for (i, pin) in [&output, &ground, &feed].into_iter().enumerate() {
        bench.observations[i].red = None;
        bench.observations[i].red_pin = Some(pin.clone());
    }
    let unknown = UnknownPins {
        connector: connector.id.clone(),
        pins: vec![feed.clone(), ground.clone(), output.clone()],
        diagram_error: 0.5,
        color_error: 0.1,
        colors_seen: BTreeMap::new(),
    };
    let options = Options { unknown_pins: Some(unknown), ..Options::default() };
    let found = diagnose(&circuit, &Meter::default(), &bench.observations, &options).unwrap();
    let total: f64 = found.pin_outs.iter().map(|way| way.probability).sum();
    assert!((total - 1.0).abs() < 0.01, "{total}");
    // The ground reads nothing: wherever feed and output are, it is neither.
    for way in found.pin_outs.iter().filter(|way| way.probability > 0.05) {
        assert_eq!(way.pins[&ground], "mod_ground", "{:?}", found.pin_outs);
    }
    assert!(probability(&found, "wire_control/high_resistance") > 0.2, "{:?}", found.causes.first());
    // The colour on a pin decides what volts alone can't.
    let colour = |point: &str| connector.pins.iter().find(|pin| pin.point == point).unwrap().color.clone();
    let mut options = options;
    if let Some(unknown) = &mut options.unknown_pins {
        unknown.colors_seen =
            BTreeMap::from([(output.clone(), colour("mod_feed")), (feed.clone(), colour("mod_out"))]);
    }
    let coloured = diagnose(&circuit, &Meter::default(), &bench.observations, &options).unwrap();
    let swapped = |found: &Diagnosis| -> f64 {
        let ways = found.pin_outs.iter().filter(|way| way.pins[&output] == "mod_feed");
        ways.map(|way| way.probability).sum()
    };
    assert!(swapped(&coloured) > swapped(&found) && swapped(&coloured) > 0.9, "{}", swapped(&coloured));
}

/// Dirichlet counts by hand: file's odds weigh 30 jobs; 30 closed jobs of one cause lift it to half and half its own.
#[test]
fn closed_jobs_sharpen_the_odds() {
    let circuit = library::find("starter_power").unwrap();
    let odds: f64 =
        circuit.components.iter().flat_map(|part| &part.faults).map(|fault| fault.odds).sum::<f64>()
            + circuit.unmodeled_odds;
    let options = Options {
        closed_jobs: BTreeMap::from([("ground_stud/high_resistance".to_owned(), 30)]),
        ..Options::default()
    };
    let found = diagnose(&circuit, &Meter::default(), &[], &options).unwrap();
    let cause = found.causes.iter().find(|cause| cause.id == "ground_stud/high_resistance").unwrap();
    let by_hand = (1.2 / odds * 30.0 + 30.0) / 60.0;
    assert!((cause.prior - by_hand).abs() < 1e-9, "{} {by_hand}", cause.prior);
}

/// At a low probability of the module a cheap test is worth more than the module; with all proven, buying is.
#[test]
fn test_or_buy_follows_the_money() {
    let circuit = library::find("relay_low_side").unwrap();
    let options = Options {
        bench_cents_per_hour: Some(12_000.0),
        module_prices: BTreeMap::from([(
            "body_module".to_owned(),
            ModulePrice { part_cents: 60_000.0, programming_cents: 30_000.0 },
        )]),
        ..Options::default()
    };
    let mut bench = Bench::new(&circuit, fault("driver", FaultMode::Dead, 0.0));
    let ask = |bench: &Bench<'_>| {
        diagnose(&circuit, &Meter::default(), &bench.observations, &options).unwrap().test_or_buy.remove(0)
    };
    bench.take("horn_sounds");
    let early = ask(&bench);
    assert_eq!(early.cheaper, Cheaper::Test);
    assert!(early.by_cents > 50_000.0, "{early:?}");
    assert!((early.buy_cents - early.test_cents - early.by_cents).abs() < 1e-6);
}

/// Results frozen before there were grounds, pins and money still read.
#[test]
fn old_results_still_read() {
    let circuit = library::find("starter_power").unwrap();
    let found = diagnose(&circuit, &Meter::default(), &[], &Options::default()).unwrap();
    let mut value = serde_json::to_value(&found).unwrap();
    for name in ["overturned_by", "pin_outs", "test_or_buy"] {
        value.as_object_mut().unwrap().remove(name);
    }
    for cause in value["causes"].as_array_mut().unwrap() {
        cause.as_object_mut().unwrap().remove("grounds");
    }
    for next in value["next"].as_array_mut().unwrap() {
        next.as_object_mut().unwrap().remove("expected_cents");
    }
    let old: Diagnosis = serde_json::from_value(value).unwrap();
    assert!(old.overturned_by.is_empty() && old.causes.iter().all(|cause| cause.reasons.is_empty()));
}

/// Every verdict names its readings, and what would overturn it.
#[test]
fn verdicts_carry_their_grounds() {
    let circuit = library::find("relay_high_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("wire_control", FaultMode::HighResistance, 150.0));
    for test in ["fan_runs", "battery_volts", "control_open", "control_loaded", "module_output_loaded"] {
        bench.take(test);
    }
    let found = bench.diagnosis();
    let leading = &found.causes[0];
    assert_eq!(leading.id, "wire_control/high_resistance");
    assert!(leading.reasons.iter().any(|ground| ground.observation.ends_with("control_loaded")));
    let against = &found.modules[0].reasons[0];
    assert!(against.observation.ends_with("module_output_loaded") && against.log_odds < -3.0, "{against:?}");
    for overturn in &found.overturned_by {
        assert!(overturn.chance > 0.0 && overturn.probability_after < 0.5, "{overturn:?}");
        assert_ne!(overturn.leading_after, leading.id);
    }
}
