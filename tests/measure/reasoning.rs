//! Posterior and next test after each reading of a growing list.

use crate::Failure;
use circuit::{MeasureMode, Meter, Observation, ObservedValue, Options, Present};
use std::time::Instant;

/// Readings of a radiator fan whose control wire is corroded, in volts, as our own solver shows them.
const READINGS: &[(&str, f64)] = &[
    ("battery_volts", 12.55),
    ("relay_feed_open", 12.55),
    ("control_open", 12.52),
    ("control_loaded", 6.75),
    ("module_output_loaded", 12.50),
    ("module_feed", 12.52),
    ("module_ground", 0.02),
    ("control_wire_drop", 5.74),
];

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let circuit = circuit::library::find("relay_high_side")?;
    let (meter, options) = (Meter::default(), Options::default());
    let mut observations = Vec::new();
    let mut times = Vec::new();
    for (index, (test, volts)) in READINGS.iter().enumerate() {
        let test = circuit.tests.iter().find(|t| t.id == *test).ok_or("no such test")?;
        observations.push(Observation {
            id: format!("r{index}"),
            test: Some(test.id.clone()),
            mode: MeasureMode::VoltsDc,
            red: test.red.clone(),
            black: test.black.clone(),
            value: ObservedValue::Number(*volts),
            state: test.state.clone(),
            load: test.load.clone(),
            complaint: Present::Yes,
            placement: u32::try_from(index)? + 1,
            ..Observation::default()
        });
        for _ in 0..3 {
            let start = Instant::now();
            circuit::diagnose(&circuit, &meter, &observations, &options)?;
            times.push(start.elapsed().as_secs_f64() * 1e3);
        }
    }
    times.sort_by(f64::total_cmp);
    let at = |share: f64| {
        times.get((times.len() as f64 * share) as usize).or(times.last()).copied().unwrap_or(0.0)
    };
    Ok(vec![("update_ms_median", at(0.5)), ("update_ms_p95", at(0.95))])
}
