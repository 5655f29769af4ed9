//! The posterior beside pgmpy's exact inference, on a circuit whose faults have definite severities.

use std::io::Write as _;
use std::process::{Command, Stdio};

use circuit::{Circuit, Meter, Observation, Options, diagnose};
use serde_json::{Value, json};

use crate::posterior::{anything, bell, metered, reading, series};

/// Steps of what scales all readings, battery and gain together.
const STEP: f64 = 2.5e-4;
/// Chances instead of densities: so much of a volt.
const WIDTH: f64 = 1e-3;

/// Name, odds and added resistance of every cause.
const CAUSES: [(&str, f64, f64); 5] = [
    ("feed_wire/high_resistance", 3.0, 20.0),
    ("feed_wire/open", 1.0, f64::INFINITY),
    ("ground_wire/high_resistance", 2.0, 12.0),
    ("ground_wire/open", 1.0, f64::INFINITY),
    ("lamp/open", 4.0, f64::INFINITY),
];

/// Two wires and a lamp, with one severity for each wire.
fn discretised() -> Circuit {
    let mut circuit = Circuit::from_json(include_str!("two_wires.json")).unwrap();
    for part in &mut circuit.components {
        for fault in part.faults.iter_mut().filter(|fault| fault.min.is_some()) {
            let id = format!("{}/high_resistance", part.id);
            let ohms = CAUSES.iter().find(|(name, ..)| *name == id).unwrap().2;
            (fault.min, fault.max) = (Some(ohms), Some(ohms * (1.0 + 1e-9)));
        }
    }
    circuit
}

#[test]
fn equals_pgmpy() {
    let circuit = discretised();
    let cases: [&[(&str, &str, f64)]; 4] = [
        &[("lamp_in", "ground", 2.9)],
        &[("lamp_in", "ground", 2.9), ("lamp_out", "ground", 0.02)],
        &[("lamp_in", "ground", 12.61), ("lamp_out", "ground", 8.35), ("lamp_in", "lamp_out", 4.19)],
        &[("lamp_in", "ground", 12.3), ("lamp_out", "ground", 0.02), ("lamp_in", "lamp_out", 12.4)],
    ];
    for case in cases {
        let seen: Vec<Observation> = case
            .iter()
            .enumerate()
            .map(|(i, (red, black, volts))| reading(&i.to_string(), red, black, *volts, 1))
            .collect();
        let ours =
            diagnose(&circuit, &Meter::default(), &seen, &Options { look_alikes: 0.0, ..Options::default() })
                .unwrap();
        assert!(ours.pairs.is_empty(), "{case:?}: this check has no pairs");
        let theirs = pgmpy(&network(&circuit, case));
        for ((name, ..), exact) in CAUSES.iter().zip(&theirs) {
            let cause = ours.causes.iter().find(|cause| cause.id == *name).unwrap();
            let off = (cause.probability - exact).abs();
            assert!(off < 1e-6, "{case:?} {name}: {} pgmpy {exact}", cause.probability);
        }
        let off = (ours.unmodeled - theirs[CAUSES.len()]).abs();
        assert!(off < 1e-6, "{case:?} unmodelled: {} pgmpy {}", ours.unmodeled, theirs[CAUSES.len()]);
    }
}

/// The case as tables of chances.
fn network(circuit: &Circuit, readings: &[(&str, &str, f64)]) -> Value {
    let odds = CAUSES.map(|(_, odds, _)| odds).iter().sum::<f64>() + circuit.unmodeled_odds;
    let priors: Vec<f64> = CAUSES.iter().map(|(_, own, _)| own / odds).collect();
    let grid: Vec<f64> = (-640..=640).map(|i| f64::from(i) * STEP).collect();
    let gain = 0.005 / 1.96;
    let weigh = |scale: &f64| {
        let usual = 0.9 * bell(*scale, (0.1 / 12.6_f64).hypot(gain));
        usual + 0.1 * bell(*scale, (0.3 / 12.6_f64).hypot(gain))
    };
    let weights: Vec<f64> = grid.iter().map(weigh).collect();
    let total: f64 = weights.iter().sum();
    let lit = |name: &str, extra: f64| {
        let lamp = if name == "lamp/open" { 0.0 } else { series(name, extra, "lamp_in", "lamp_out", 12.6) };
        if lamp >= 8.0 { 0.02 } else { 0.98 }
    };
    // Outside the circuit: half as in a healthy circuit, half anything; of the lamp's answer just so.
    let dark: Vec<f64> =
        CAUSES.iter().map(|(name, _, extra)| lit(name, *extra)).chain([0.5 * 0.02 + 0.5 * 0.5]).collect();
    let tables: Vec<Value> = readings
        .iter()
        .map(|(red, black, seen)| {
            let aimed = |name: &str, extra: f64| -> Vec<f64> {
                let mean = metered(name, extra, red, black, 12.6);
                let (percent, counts) = (0.005 * mean.abs() / 1.96, 0.02 / 1.96);
                let rest = ((percent + counts).powi(2) - percent.powi(2)).sqrt();
                grid.iter().map(|scale| WIDTH * bell(seen - mean * (1.0 + scale), rest)).collect()
            };
            let healthy = metered("healthy", 0.0, red, black, 12.6);
            let sigma = ((0.005 * healthy.abs() + 0.02) / 1.96).hypot(healthy * 0.1 / 12.6);
            let outside = WIDTH * (0.5 * bell(seen - healthy, sigma) + 0.5 * anything(*seen));
            let known = CAUSES.iter().map(|(name, _, extra)| aimed(name, *extra));
            let table: Vec<Vec<f64>> = known.chain([vec![outside; grid.len()]]).collect();
            json!({ "aimed": table, "flat": WIDTH * anything(*seen) })
        })
        .collect();
    json!({
        "priors": priors.into_iter().chain([circuit.unmodeled_odds / odds]).collect::<Vec<_>>(),
        "scales": weights.iter().map(|weight| weight / total).collect::<Vec<_>>(),
        "answers": [dark],
        "readings": tables,
        "mis_probe": 0.02,
    })
}

fn pgmpy(case: &Value) -> Vec<f64> {
    let script = concat!(env!("CARGO_MANIFEST_DIR"), "/circuits/bayes.py");
    let mut run = Command::new(testimeter_checks::venv::python_for_inference())
        .arg(script)
        .stdin(Stdio::piped())
        .stdout(Stdio::piped())
        .spawn()
        .unwrap();
    run.stdin.take().unwrap().write_all(case.to_string().as_bytes()).unwrap();
    let output = run.wait_with_output().unwrap();
    assert!(output.status.success(), "pgmpy failed");
    serde_json::from_slice(&output.stdout).unwrap()
}
