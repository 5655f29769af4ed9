//! AC volts and hertz of a pick-up: beside ngspice's own AC analysis, beside a solution by another way, and in a whole search.

use std::process::Command;

use circuit::{
    Circuit, Diagnosis, Fault, FaultMode, MeasureMode, Meter, Observation, ObservedValue, Options, Test,
    diagnose, library,
};

use crate::harness::{engine, search};
use crate::technician::Ended;
use crate::vehicle::{Instrument, Vehicle};

fn wheel() -> Circuit {
    library::find("wheel_sensor_magnetic").unwrap()
}

fn test<'c>(circuit: &'c Circuit, id: &str) -> &'c Test {
    circuit.tests.iter().find(|test| test.id == id).unwrap()
}

fn fault(mode: FaultMode, severity: f64) -> Fault {
    Fault { component: "pick_up".to_owned(), mode, severity, at: None }
}

/// What a vehicle with these faults shows, by the trials' own way (a current source beside the winding, solved whole).
fn shown(circuit: &Circuit, id: &str, faults: Vec<Fault>) -> ObservedValue {
    let vehicle = Vehicle { faults, ..Vehicle::healthy(circuit) };
    let test = test(circuit, id);
    let leads = (test.red.as_deref().unwrap(), test.black.as_deref().unwrap());
    vehicle.reading(test, leads, &Instrument::perfect(&Meter::default()), None).unwrap()
}

fn ask(circuit: &Circuit, seen: &[Observation]) -> Diagnosis {
    diagnose(circuit, &Meter::default(), seen, &Options::default()).unwrap()
}

/// AC volts at the open module connector by ngspice (`.ac`), the pick-up an ideal AC source behind its winding.
fn by_ngspice(source: f64, winding: f64, across: f64) -> f64 {
    let deck = format!(
        "pick-up\nV1 a 0 AC {source}\nR1 a sig {winding}\nRacross sig 0 {across}\nRmeter sig 0 10meg\n.ac lin 1 48 48\n.print ac vm(sig)\n.end\n"
    );
    let folder = tempfile_folder();
    let file = folder.join("pick_up.cir");
    std::fs::write(&file, deck).unwrap();
    let out = Command::new("ngspice").arg("-b").arg(&file).output().expect("ngspice is missing");
    let text = String::from_utf8_lossy(&out.stdout).into_owned();
    let line = text.lines().find(|line| line.starts_with("0\t")).unwrap_or_else(|| panic!("{text}"));
    line.split_whitespace().last().unwrap().parse().unwrap()
}

fn tempfile_folder() -> std::path::PathBuf {
    let folder = std::env::temp_dir().join(format!("testimeter-pick-up-{}", std::process::id()));
    std::fs::create_dir_all(&folder).unwrap();
    folder
}

/// The engine's prediction under a definite fault is what it expects of a reading when that cause leads.
#[test]
fn volts_agree_with_ngspice_and_with_the_trials() {
    let circuit = wheel();
    let near = |left: f64, right: f64| (left - right).abs() < 0.0011;
    for (faults, source, winding, across) in [
        (vec![], 0.45, 1100.0, 1e12),
        (vec![fault(FaultMode::LowVoltage, 0.03)], 0.03, 1100.0, 1e12),
        (vec![fault(FaultMode::HighResistance, 5e6)], 0.45, 1100.0 + 5e6, 1e12),
        (vec![fault(FaultMode::ShortAcross, 200.0)], 0.45, 1100.0, 200.0),
    ] {
        let theirs = by_ngspice(source, winding, across);
        let ObservedValue::Number(ours) = shown(&circuit, "sensor_ac", faults.clone()) else { panic!() };
        assert!(near(ours, theirs), "{faults:?}: {ours} {theirs}");
    }
    let healthy = ask(&circuit, &[]).next;
    let offered = healthy.iter().find(|next| next.test == "sensor_ac");
    let value = offered.and_then(|next| next.healthy).unwrap_or_else(|| {
        let seen = Observation::at(test(&circuit, "sensor_ac"), "one", ObservedValue::Number(0.4), 1);
        ask(&circuit, &[seen]).expected[0].healthy.unwrap()
    });
    assert!(near(value, by_ngspice(0.45, 1100.0, 1e12)), "{value}");
    // The module's bias resistor lies beside the winding while it is plugged in.
    let at = Observation {
        test: None,
        mode: MeasureMode::VoltsAc,
        red: Some("mod_sig".to_owned()),
        black: Some("mod_sgnd".to_owned()),
        state: circuit.whole_state(Some("sig_volts"), &[("wheel".to_owned(), "turned".to_owned())].into()),
        ..Observation::at(test(&circuit, "sensor_ac"), "one", ObservedValue::Number(0.4), 1)
    };
    let plugged = ask(&circuit, &[at]).expected[0].healthy.unwrap();
    assert!(near(plugged, by_ngspice(0.45, 1100.0, 10_001.0)), "{plugged}");
}

/// A weak signal is told from a shorted and from an open winding by ohms and AC volts together.
#[test]
fn a_dirty_tip_a_shorted_and_an_open_winding_are_told_apart() {
    let circuit = wheel();
    let leads = |id: &str, value: ObservedValue| Observation::at(test(&circuit, id), id, value, 1);
    let number = ObservedValue::Number;
    for (ohms, volts, cause) in [
        (number(1102.0), number(0.021), "pick_up/low_voltage"),
        (number(152.0), number(0.056), "pick_up/short_across"),
        (ObservedValue::OverLimit, number(0.0), "pick_up/open"),
    ] {
        let seen = [leads("sensor_ohms", ohms), Observation { placement: 2, ..leads("sensor_ac", volts) }];
        let found = ask(&circuit, &seen);
        assert_eq!(found.causes[0].id, cause, "{:?}", &found.causes[..3]);
        assert!(found.causes[0].probability > 0.6, "{cause}: {}", found.causes[0].probability);
    }
}

/// No hertz where there are too few volts to count; and a wheel that stands still gives nothing.
#[test]
fn what_a_display_cannot_count_is_over_limit() {
    let circuit = wheel();
    assert_eq!(shown(&circuit, "sensor_hertz", vec![]), ObservedValue::Number(48.0));
    let weak = vec![fault(FaultMode::LowVoltage, 0.01)];
    assert_eq!(shown(&circuit, "sensor_hertz", weak), ObservedValue::OverLimit);
    let seen = Observation::at(test(&circuit, "sensor_hertz"), "one", ObservedValue::OverLimit, 1);
    let dead = ask(&circuit, &[seen]);
    let sensor = dead.causes.iter().filter(|cause| cause.component == "pick_up");
    assert!(sensor.map(|cause| cause.probability).sum::<f64>() > 0.8);
    let mut still = circuit.clone();
    let at = still.tests.iter().position(|test| test.id == "sensor_ac").unwrap();
    still.tests[at].state.insert("wheel".to_owned(), "still".to_owned());
    assert_eq!(shown(&still, "sensor_ac", vec![]), ObservedValue::Number(0.0));
}

#[test]
fn a_dirty_tip_is_found_and_no_module_called_for_it() {
    let circuit = wheel();
    let engine = engine(&circuit);
    let dirty = Vehicle { faults: vec![fault(FaultMode::LowVoltage, 0.02)], ..Vehicle::healthy(&circuit) };
    assert!(dirty.complains().unwrap());
    for seed in 0..4 {
        let ended = search(&engine, dirty.clone(), &circuit, seed);
        assert!(!matches!(ended, Ended::ModuleCalled(_)), "{seed}: {ended:?}");
    }
}
