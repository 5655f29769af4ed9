//! The garage checked against closed forms, against volts that ngspice gave for another netlist, and against itself.

use std::collections::{BTreeMap, BTreeSet};

use circuit::{Circuit, ObservedValue, State};

use super::dice::Dice;
use super::harm::Edit;
use super::measure::{self, Instrument};
use super::settle::{Bench, Meter};
use super::specimen::Vehicle;
use super::truth;
use super::{Job, Mix, Sort};

mod fuses;
mod healthy;
mod jobs;
mod outputs;
mod pulses;
mod relay;

fn library() -> Vec<Circuit> {
    super::on_the_bench(circuit::library::all().unwrap())
}

fn find(id: &str) -> Circuit {
    library().into_iter().find(|circuit| circuit.id == id).unwrap()
}

/// A circuit of these parts, all points reachable, without tests.
fn circuit_of(points: &[&str], components: &serde_json::Value) -> Circuit {
    let text = |words: &str| serde_json::json!({"en": words, "es": words});
    let points: Vec<serde_json::Value> = points
        .iter()
        .map(|id| serde_json::json!({"id": id, "name": text(id), "x": 0, "y": 0, "reachable": true}))
        .collect();
    let values = |ids: &[&str]| -> Vec<serde_json::Value> {
        ids.iter().map(|id| serde_json::json!({"id": id, "name": text(id)})).collect()
    };
    serde_json::from_value(serde_json::json!({
        "format": 1, "id": "bench", "version": 1, "title": text("bench"), "about": text("bench"),
        "complaint": {"name": text("none"), "test": "none", "answer": false},
        "reference": "0v", "points": points, "connectors": [], "components": components,
        "variables": [
            {"id": "relay", "name": text("relay"), "values": values(&["in", "out"]), "default": "in"},
            {"id": "load", "name": text("load"), "values": values(&["no", "yes"]), "default": "no"},
            {"id": "fuse", "name": text("fuse"), "values": values(&["fitted", "out", "new"]), "default": "fitted"},
            {"id": "scan_tool", "name": text("scan tool"), "values": values(&["reading", "output_test"]),
             "default": "reading"},
        ],
        "tests": [], "unmodelled_odds": 1.0, "sources": []
    }))
    .unwrap()
}

fn part(id: &str, kind: &serde_json::Value) -> serde_json::Value {
    serde_json::json!({"id": id, "name": {"en": id, "es": id}, "kind": kind})
}

fn state(pairs: &[(&str, &str)]) -> State {
    pairs.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect()
}

fn bench(circuit: &Circuit, edits: &[Edit]) -> Bench {
    Bench::new(Vehicle::as_drawn(circuit).with(edits), BTreeSet::new())
}

/// Volts at a point with a meter of so many ohm on it.
fn volts(bench: &mut Bench, state: &State, point: &str, ohms: f64) -> f64 {
    let meter = Meter::Across { red: point.to_owned(), black: "0v".to_owned(), ohms };
    bench.settle(state, None, &meter).unwrap().solution.between(point, "0v")
}

fn near(what: &str, found: f64, expected: f64, within: f64) {
    assert!((found - expected).abs() <= within, "{what}: {found} for {expected}");
}

#[test]
fn a_divider_with_a_meter_on_it_follows_the_formula() {
    let circuit = circuit_of(
        &["0v", "top", "middle"],
        &serde_json::json!([
            part(
                "battery",
                &serde_json::json!({"battery": {"positive": "top", "negative": "0v", "volts": 12.0,
                "volts_spread": 0.1, "internal_ohms": 0.5}})
            ),
            part("upper", &serde_json::json!({"resistor": {"from": "top", "to": "middle", "ohms": 1e6}})),
            part("lower", &serde_json::json!({"resistor": {"from": "middle", "to": "0v", "ohms": 2e6}})),
        ]),
    );
    let mut bench = bench(&circuit, &[]);
    for meter in [10e6, 1e6, 3e3] {
        let below = 1.0 / (1.0 / 2e6 + 1.0 / meter);
        let expected = 12.0 * below / (1e6 + 0.5 + below);
        near("divider", volts(&mut bench, &State::new(), "middle", meter), expected, 2e-4);
    }
}

#[test]
fn a_fuse_blows_once_and_stays_blown() {
    let circuit = circuit_of(
        &["0v", "top", "behind"],
        &serde_json::json!([
            part(
                "battery",
                &serde_json::json!({"battery": {"positive": "top", "negative": "0v", "volts": 12.0,
                "volts_spread": 0.1, "internal_ohms": 0.01}})
            ),
            part(
                "fuse",
                &serde_json::json!({"fuse": {"from": "top", "to": "behind", "ohms": 0.01, "rating_amps": 10}})
            ),
            part(
                "load",
                &serde_json::json!({"switch": {"from": "behind", "to": "0v", "closed_when": {"load": ["yes"]},
                "closed_ohms": 0.1}})
            ),
        ]),
    );
    let mut bench = bench(&circuit, &[]);
    near("before", volts(&mut bench, &state(&[]), "behind", 10e6), 12.0, 1e-3);
    // 12 V over 0.12 ohm is 100 A through a 10 A fuse.
    near("while", volts(&mut bench, &state(&[("load", "yes")]), "behind", 10e6), 0.0, 1e-3);
    near("after", volts(&mut bench, &state(&[]), "behind", 10e6), 0.0, 2e-2);
    assert_eq!(bench.blown, BTreeSet::from([1]));
}

#[test]
fn filaments_are_cold_to_the_ohmmeter_and_hot_at_twelve_volts() {
    let circuit = circuit_of(
        &["0v", "top", "lit"],
        &serde_json::json!([
            part(
                "battery",
                &serde_json::json!({"battery": {"positive": "top", "negative": "0v", "volts": 12.0,
                "volts_spread": 0.1, "internal_ohms": 0.001}})
            ),
            part(
                "lamp",
                &serde_json::json!({"lamp": {"from": "lit", "to": "0v", "ohms": 6.9, "cold_ohms": 0.69}})
            ),
            part(
                "switch",
                &serde_json::json!({"switch": {"from": "top", "to": "lit", "closed_when": {"load": ["yes"]},
                "closed_ohms": 0.01}})
            ),
        ]),
    );
    let mut bench = bench(&circuit, &[]);
    let settled = bench.settle(&state(&[("load", "yes")]), None, &Meter::None).unwrap();
    near("hot amperes", settled.solution.through(2), 12.0 / 6.9, 0.03);
    let test: circuit::Test = serde_json::from_value(serde_json::json!({"id": "ohms",
        "name": {"en": "ohms", "es": "ohms"}, "mode": "ohms", "red": "lit", "black": "0v", "minutes": 1}))
    .unwrap();
    let cold = measure::perfect(&circuit, &mut bench, &test, &Instrument::plain()).unwrap();
    let Some(ObservedValue::Number(cold)) = cold else { panic!("{cold:?}") };
    near("cold ohms", cold, 0.69, 0.02);
}
