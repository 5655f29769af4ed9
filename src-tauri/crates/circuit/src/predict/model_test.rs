//! Curves between solved severities against solving at every severity.

use crate::answer::options::Options;
use crate::file::meter::Meter;
use crate::file::observation::MeasureMode;
use crate::predict::model::Model;
use crate::predict::reading::{Measure, Predicted};
use crate::solve::part::SPREAD;

fn reading_sigma(meter: &Meter, measure: &Measure, value: f64) -> f64 {
    match measure {
        Measure::Reading(mode, ..) => meter.accuracy(*mode).map_or(0.0, |accuracy| accuracy.sigma(value)),
        Measure::Question(_) => 0.0,
    }
}

/// Curves through three solves must equal solving at every severity.
#[test]
fn curves_equal_solves() {
    for circuit in crate::library::all().unwrap() {
        let mut model = Model::new(&circuit, &Meter::default(), &Options::default()).unwrap();
        for (number, test) in circuit.tests.iter().enumerate() {
            model.column_of_test(number, test).unwrap();
        }
        let columns: Vec<usize> = (0..model.columns.len()).collect();
        model.fill(columns.iter().copied(), |_| true).unwrap();
        for (number, cause) in model.causes.iter().enumerate() {
            for step in 0..=if cause.has_range() { 97 } else { 0 } {
                let u = f64::from(step) / 97.0;
                let direct = model.with_faults(&columns, &[cause.failing(u)]).unwrap();
                for (column, direct) in model.columns.iter().zip(direct) {
                    let curve = column.curves[number].at(u, cause.severity(u));
                    let same = match (curve, direct) {
                        (
                            Predicted::Value { value, scatter, supply, spread },
                            Predicted::Value {
                                value: exact,
                                scatter: wide,
                                supply: moves,
                                spread: theirs_each,
                            },
                        ) => {
                            // What weighs a reading is the scatter together with the meter's own.
                            let meter = reading_sigma(&Meter::default(), &column.measure, exact);
                            let all = |scatter: f64, spread: [f64; SPREAD]| {
                                spread.iter().fold(scatter.hypot(meter), |all, by| all.hypot(*by))
                            };
                            let (ours, theirs) = (all(scatter, spread), all(wide, theirs_each));
                            // A duty enters squared, so that no curve through three points is exact.
                            let squared = cause.spec.mode == crate::file::fault::FaultMode::LowDuty;
                            // Amperes are differences of volts over milliohms: a thousandth of
                            // the clamp's own error is asked for.
                            let amps = matches!(column.measure, Measure::Reading(MeasureMode::AmpsClamp, ..));
                            let close = if squared { 1e-4 } else { 1e-6 };
                            let close = if amps { 1e-3 * meter } else { close };
                            (value - exact).abs() < close * exact.abs().max(1.0)
                                && (ours - theirs).abs() <= 0.15 * theirs
                                && (supply - moves).abs() < 1e-3 + 0.01 * moves.abs()
                        }
                        (curve, direct) => curve == direct,
                    };
                    let what = (&circuit.id, &cause.id, u, &column.measure);
                    assert!(same, "{what:?}: curve {curve:?}, solved {direct:?}");
                }
            }
        }
    }
}
