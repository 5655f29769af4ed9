//! Milliseconds to draw each circuit of the library: columns once, then a drawing for a reading; and the ratio to solving the same
//! circuit once in its usual state.

use crate::{Failure, median};
use circuit::{Meter, Observation, ObservedValue, Options, State, TestKind};
use drawing::{Facts, Language, Plan, UPRIGHT};

/// Runs of which the median counts.
const RUNS: usize = 9;

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let (mut plans, mut drawings, mut solves) = (Vec::new(), Vec::new(), Vec::new());
    for circuit in circuit::library::all()? {
        let first = circuit.tests.iter().find(|test| test.kind() == TestKind::Meter).ok_or("no test")?;
        let seen = [Observation::at(first, "one", ObservedValue::Number(0.5), 1)];
        let diagnosis = circuit::diagnose(&circuit, &Meter::default(), &seen, &Options::default())?;
        let next = diagnosis.next.first().map(|next| next.test.as_str());
        let facts = Facts { diagnosis: &diagnosis, observations: &seen, state: &first.state, next };
        let plan = Plan::of(&circuit);
        let planned = median(RUNS, || {
            drop(std::hint::black_box(Plan::of(&circuit)));
            Ok(())
        })?;
        let drawn = median(RUNS, || {
            drop(std::hint::black_box(plan.draw(&circuit, &facts, Language::English, UPRIGHT)));
            Ok(())
        })?;
        let (planned, drawn) = (planned * 1e3, drawn * 1e3);
        let solved = median(RUNS, || {
            drop(std::hint::black_box(circuit::solve(&circuit, &State::new(), &[], None)?));
            Ok(())
        })?;
        eprintln!("{:<28} plan {planned:>8.2} ms, drawing {drawn:>7.2} ms", circuit.id);
        plans.push(planned);
        drawings.push(drawn);
        solves.push(solved * 1e3);
    }
    let middle = |list: &mut Vec<f64>| {
        list.sort_by(f64::total_cmp);
        list.get(list.len() / 2).copied().unwrap_or(0.0)
    };
    let most = |list: &[f64]| list.iter().copied().fold(0.0, f64::max);
    Ok(vec![
        ("plan_ms_most", most(&plans)),
        ("plan_ms_median", middle(&mut plans)),
        ("drawing_ms_most", most(&drawings)),
        ("drawing_ms_median", middle(&mut drawings)),
        ("drawing_per_solve", middle(&mut drawings) / middle(&mut solves).max(1e-9)),
    ])
}
