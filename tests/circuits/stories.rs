//! Whole searches with a hidden fault. Readings come from the solver plus a meter's error, never from a list.

use circuit::{
    DoubtCode, EvidenceCode, FaultMode, Meter, MissingCode, Observation, ObservedValue, Options, Present,
    WithheldCode, diagnose, library,
};

use crate::bench::{Bench, fault};

/// A corroded control wire looks like a module at first. The engine must hold back, offer a loaded reading, and find it.
#[test]
fn corroded_control_wire_is_not_called_a_module() {
    let circuit = library::find("relay_high_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("wire_control", FaultMode::HighResistance, 150.0));
    for test in ["fan_runs", "relay_clicks", "battery_volts", "control_open"] {
        bench.take(test);
    }
    let open = bench.diagnosis();
    assert!(!open.modules[0].may_be_called);
    let loaded = ["control_loaded", "control_resistor", "control_open_low_impedance"];
    assert!(open.next.iter().any(|next| loaded.contains(&next.test.as_str())), "{:?}", open.next);
    bench.take("control_loaded");
    let low = bench.diagnosis();
    assert!(!low.modules[0].may_be_called);
    assert!(low.modules[0].probability > 0.15, "the reading does point at the module too");
    let missing: Vec<MissingCode> = low.modules[0].missing.iter().map(|missing| missing.code).collect();
    assert!(missing.contains(&MissingCode::OutputNotObservedUnderLoad), "{missing:?}");
    assert!(low.next.iter().any(|next| next.test == "module_output_loaded"), "{:?}", low.next);
    bench.take("module_output_loaded");
    bench.take("control_wire_drop");
    let found = bench.diagnosis();
    assert_eq!(found.causes[0].id, "wire_control/high_resistance");
    // A twelfth of every cause is kept for what looks like it and is none.
    assert!(found.causes[0].probability > 0.9, "{}", found.causes[0].probability);
    let severity = found.causes[0].severity.unwrap();
    assert!(severity.low < 150.0 && 150.0 < severity.high, "{severity:?}");
    assert!(found.modules[0].probability < 0.01);
}

/// A dead output: the module may be called only when the last thing on the list is done.
#[test]
fn dead_output_is_called_only_with_everything_observed() {
    let circuit = library::find("relay_low_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("driver", FaultMode::Dead, 0.0));
    let tests = [
        "horn_sounds",
        "relay_clicks",
        "battery_volts",
        "relay_feed_open",
        "coil_feed",
        "control_loaded",
        "module_output_loaded",
        "module_feed",
        "module_ground",
        "module_input",
        "scan_request",
        "module_output_bypass",
        "module_connector_look",
        "harness_loaded",
        "module_feed",
        "module_ground",
        "scan_conditions_body_module",
        "scan_output_test_body_module",
    ];
    for test in tests {
        assert!(!bench_calls(&bench), "called before {test}");
        bench.take(test);
    }
    let last = bench.diagnosis();
    let missing: Vec<MissingCode> = last.modules[0].missing.iter().map(|missing| missing.code).collect();
    assert_eq!(missing, [MissingCode::FailingReadingNotRepeated]);
    bench.take("module_output_loaded");
    let called = bench.diagnosis();
    assert!(called.modules[0].may_be_called, "{:?}", called.modules[0].missing);
    assert!(called.modules[0].probability >= 0.95);
    assert!(called.inseparable.iter().any(|group| group.contains(&"driver/dead".to_owned())));
}

fn bench_calls(bench: &Bench<'_>) -> bool {
    bench.diagnosis().modules[0].may_be_called
}

/// The same readings with the complaint absent or unknown never call a module.
#[test]
fn no_call_while_the_complaint_is_not_present() {
    let circuit = library::find("relay_low_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("driver", FaultMode::Dead, 0.0));
    for test in ["module_output_loaded", "module_feed", "module_ground", "module_input", "scan_request"] {
        bench.take_when(test, Present::Unknown);
    }
    bench.take_when("module_connector_look", Present::Unknown);
    bench.take_when("module_output_loaded", Present::Unknown);
    let verdict = &bench.diagnosis().modules[0];
    assert!(!verdict.may_be_called);
    assert!(verdict.missing.iter().any(|missing| missing.code == MissingCode::SupplyNotObserved));
}

/// Readings taken while the circuit worked rule out nothing that comes and goes.
#[test]
fn healthy_readings_while_it_works_keep_what_comes_and_goes() {
    let circuit = library::find("relay_high_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("wire_control", FaultMode::Open, 0.0));
    for test in ["control_loaded", "module_output_loaded", "ground_85", "fan_feed"] {
        bench.take_when(test, Present::No);
    }
    let diagnosis = bench.diagnosis();
    for cause in diagnosis.causes.iter().filter(|cause| cause.comes_and_goes > 0.0) {
        assert!(cause.ruled_out.is_none(), "{} was ruled out", cause.id);
    }
    let wire = diagnosis.causes.iter().find(|cause| cause.id == "wire_control/open").unwrap();
    assert!(wire.comes_and_goes > 0.9 * wire.probability);
}

/// A contradicting repeat is named as a pair.
#[test]
fn contradiction_is_named() {
    let circuit = library::find("relay_high_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("wire_control", FaultMode::HighResistance, 150.0));
    bench.take("control_loaded");
    bench.take("control_loaded");
    bench.observations[1].value = ObservedValue::Number(9.0);
    let diagnosis = bench.diagnosis();
    let pair: Vec<&str> = bench.observations.iter().map(|observation| observation.id.as_str()).collect();
    let named = diagnosis.doubts.iter().find(|doubt| doubt.observations == pair).unwrap();
    assert!(matches!(named.code, DoubtCode::Contradiction | DoubtCode::NotInThisCircuit));
}

/// Joining 30 and 87 is offered only after the feed at 30 was found good.
#[test]
fn bridging_waits_for_the_feed() {
    let circuit = library::find("relay_high_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("contact", FaultMode::StuckOpen, 0.0));
    bench.take("fan_runs");
    let before = bench.diagnosis();
    let held = before.withheld_tests.iter().find(|held| held.test == "bridge_runs").unwrap();
    assert_eq!(
        (held.why, held.needs.as_slice()),
        (WithheldCode::NeedsProofFirst, ["relay_feed_open".to_owned()].as_slice())
    );
    assert!(held.cautions.contains(&"jumping_a_pin".to_owned()));
    bench.take("relay_feed_open");
    assert!(bench.diagnosis().withheld_tests.iter().all(|held| held.test != "bridge_runs"));
}

/// A worn ground at the engine, found in a starter that cranks slowly.
#[test]
fn ground_at_the_engine() {
    let circuit = library::find("starter_power").unwrap();
    let mut bench = Bench::new(&circuit, fault("ground_stud", FaultMode::HighResistance, 0.02));
    for test in ["cranks_well", "battery_rest", "battery_cranking", "ground_drop", "ground_stud_drop"] {
        bench.take(test);
    }
    let found = bench.diagnosis();
    assert_eq!(found.causes[0].id, "ground_stud/high_resistance");
    assert!(found.causes[0].probability > 0.9);
    assert!(found.causes.iter().filter(|cause| cause.ruled_out.is_some()).count() > 10);
}

/// A terminal with no connection that the look missed reads like a dead output. Without the line "past its terminal" on
/// the list this very job ends in a call; with it, leads in place of the terminal show that the module works.
#[test]
fn a_terminal_the_look_missed_is_no_bad_module() {
    let circuit = library::find("fuel_pump").unwrap();
    let mut unasked = circuit.clone();
    unasked.modules[0].evidence.retain(|need| need.code != EvidenceCode::PastTerminal);
    let mut bench = Bench::new(&circuit, fault("pin_out", FaultMode::Open, 0.0));
    let before = ["pump_runs", "relay_clicks", "battery_volts", "control_loaded", "control_resistor"];
    let module = ["module_feed", "module_ground", "scan_request", "module_output_loaded", "harness_loaded"];
    let asked =
        ["scan_conditions_engine_module", "scan_output_test_engine_module", "module_feed", "module_ground"];
    for test in before.iter().chain(&module).chain(&asked) {
        bench.take(test);
    }
    let look = circuit.tests.iter().find(|test| test.id == "module_connector_look").unwrap();
    let clean = Observation::at(look, "clean".to_owned(), ObservedValue::No, 20);
    bench.observations.push(Observation { complaint: Present::Yes, ..clean });
    bench.take("module_output_loaded");
    let (meter, options) = (Meter::default(), Options::default());
    let found = diagnose(&unasked, &meter, &bench.observations, &options).unwrap();
    assert!(found.modules[0].may_be_called, "{:?}", found.modules[0].missing);
    let held = &bench.diagnosis().modules[0];
    assert!(!held.may_be_called);
    let wanted = held.missing.iter().find(|one| one.code == MissingCode::OutputNotObservedPastTerminal);
    assert_eq!(wanted.unwrap().test.as_deref(), Some("module_output_bypass"));
    bench.take("module_output_bypass");
    let found = bench.diagnosis();
    assert!(!found.modules[0].may_be_called);
    assert_eq!(found.causes[0].component, "pin_out", "{:?}", found.causes[0]);
}

/// A blown fuse is found, and with it the word of care: something opened it. Not while it is only one of many.
#[test]
fn an_open_fuse_is_named_as_one_to_ask_about() {
    let circuit = library::find("relay_low_side").unwrap();
    let mut bench = Bench::new(&circuit, fault("fuse_horn", FaultMode::Open, 0.0));
    bench.take("battery_volts");
    assert!(bench.diagnosis().open_fuses.is_empty(), "{:?}", bench.diagnosis().open_fuses);
    for test in ["horn_sounds", "relay_clicks", "relay_feed_open"] {
        bench.take(test);
    }
    assert_eq!(bench.diagnosis().open_fuses, ["fuse_horn"]);
    let mut bench = Bench::new(&circuit, fault("wire_control", FaultMode::HighResistance, 150.0));
    for test in ["horn_sounds", "relay_clicks", "relay_feed_open", "coil_feed", "control_loaded"] {
        bench.take(test);
    }
    assert!(bench.diagnosis().open_fuses.is_empty());
}
