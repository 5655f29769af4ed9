//! An entered circuit of many parts: from the diagram to the whole circuit, prepared, and one more reading.

use std::time::Instant;

use circuit::entered::Entered;
use circuit::{
    Circuit, Engine, Fault, FaultMode, Level, MeasureMode, Meter, Observation, ObservedValue, Options,
    Present, solve,
};
use serde_json::{Value, json};

use crate::Failure;

/// Parts that are entered.
const PARTS: usize = 150;
/// Readings that are taken.
const READINGS: usize = 9;

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let entered =
        Entered::from_json(&entry(PARTS).to_string()).map_err(|problems| format!("{problems:?}"))?;
    let start = Instant::now();
    let circuit = entered.into_circuit().map_err(|problems| format!("{problems:?}"))?;
    let made = start.elapsed().as_secs_f64();
    let options = Options { next_tests: 3, ..Options::default() };
    let start = Instant::now();
    let meter = Meter::default();
    let engine = Engine::new(&circuit, &meter, &options)?;
    let prepared = start.elapsed().as_secs_f64();
    let mut times = updates(&engine, &circuit)?;
    times.sort_by(f64::total_cmp);
    let at = |share: f64| times.get((times.len() as f64 * share) as usize).copied().unwrap_or(0.0) * 1e3;
    Ok(vec![
        ("entered_150_parts", circuit.components.len() as f64),
        ("entered_150_tests", circuit.tests.len() as f64),
        ("entered_150_made_ms", made * 1e3),
        ("entered_150_prepared_ms", prepared * 1e3),
        ("entered_150_update_ms_median", at(0.5)),
        ("entered_150_update_ms_worst", at(0.99)),
    ])
}

/// The complaint, then readings of a vehicle in which one wire of the branch is open, as our own solver shows them.
pub fn updates(engine: &Engine<'_>, circuit: &Circuit) -> Result<Vec<f64>, Failure> {
    let (component, mode) = ("we_0".to_owned(), FaultMode::Open);
    let faults = [Fault { component, mode, severity: 0.0, at: None }];
    let mut seen = Vec::new();
    let mut times = Vec::new();
    let readings = circuit.tests.iter().filter(|test| test.mode == MeasureMode::VoltsDc);
    let first = circuit.tests.iter().filter(|test| test.id == circuit.complaint.test);
    for (test, number) in first.chain(readings.step_by(5)).take(READINGS).zip(1..) {
        let solution = solve(circuit, &test.state, &faults, None)?;
        let volts = |point: &Option<String>| match point.as_ref().and_then(|point| solution.points.get(point))
        {
            Some(Level::Volts(volts)) => *volts,
            _ => 0.0,
        };
        let value = match &test.question {
            Some(_) => ObservedValue::No,
            None => ObservedValue::Number(((volts(&test.red) - volts(&test.black)) * 100.0).round() / 100.0),
        };
        let one = Observation::at(test, format!("{number}"), value, number);
        seen.push(Observation { complaint: Present::Yes, ..one });
        let start = Instant::now();
        engine.diagnose(&seen)?;
        times.push(start.elapsed().as_secs_f64());
    }
    Ok(times)
}

/// A fuse box whose branches have a fuse, a splice, a relay that a module grounds, wires and a motor each.
pub fn entry(parts: usize) -> Value {
    let wire = |name: String, from: &str, to: &str| json!({"name": name, "from": from, "to": to, "kind": {"wire": {"length_m": 1.0, "size": {"mm2": 2.5}}}});
    let part = |name: String, from: &str, to: &str, kind: Value| json!({"name": name, "from": from, "to": to, "kind": kind});
    let mut all = vec![
        part("battery".into(), "B+", "B-", json!({"battery": {}})),
        wire("main".into(), "B+", "box"),
        part("fuse m".into(), "box", "Fm", json!({"fuse": {"amps": 15.0}})),
        wire("wm1".into(), "Fm", "A1"),
        wire("wm2".into(), "A2", "B-"),
        part("switch".into(), "SW", "B-", json!({"switch": {"closed_by": "request"}})),
        wire("wm3".into(), "A3", "SW"),
    ];
    let mut outputs = Vec::new();
    let mut branch = 0;
    while all.len() + 13 <= parts {
        let p = |what: &str| format!("{what}{branch}");
        all.extend([
            part(p("fuse "), "box", &p("F"), json!({"fuse": {"amps": 20.0}})),
            wire(p("wa "), &p("F"), &p("S")),
            wire(p("wb "), &p("S"), &p("K30 ")),
            wire(p("wc "), &p("S"), &p("K86 ")),
            part(p("coil "), &p("K86 "), &p("K85 "), json!({"relay_coil": {"relay": p("relay ")}})),
            part(p("contact "), &p("K30 "), &p("K87 "), json!({"relay_contact": {"relay": p("relay ")}})),
            wire(p("wd "), &p("K85 "), &p("O")),
            wire(p("we "), &p("K87 "), &p("X")),
            part(p("joint "), &p("X"), &p("Y"), json!({"connection": {}})),
            wire(p("wf "), &p("Y"), &p("M+")),
            part(p("motor "), &p("M+"), &p("M-"), json!({"motor": {"amps": 4.0}})),
            part(p("ground joint "), &p("M-"), &p("Z"), json!({"connection": {}})),
            wire(p("wg "), &p("Z"), "B-"),
        ]);
        outputs.push(json!({"point": p("O"), "drives": "ground"}));
        branch += 1;
    }
    json!({
        "title": "Many branches", "source": "made up", "complaint": "Motor doesn't run", "works": "motor 0", "parts": all,
        "modules": [{"name": "body module", "feed": "A1", "ground": "A2",
            "inputs": [{"point": "A3", "asked_by": "ground"}], "outputs": outputs}],
    })
}
