//! What a verdict rests on, and what would overturn it.

use super::cause_name_of;
use super::reading::{number, reading};
use crate::view::{GroundView, MeasuredView, OverturnView};
use ::circuit::{Circuit, MeasureMode, Overturn, PossibleResult, Reason};
use ::job::event::ReadingKept;
use ::job::{Job, Reading, Weight};

/// Readings that made a verdict.
pub(crate) fn grounds(job: &Job, grounds: &[Reason]) -> Vec<GroundView> {
    let view = |ground: &Reason| GroundView {
        record: ground.observation.clone(),
        number: number(job, &ground.observation),
        reading: reading(job, &ground.observation).map(measured),
        speaks_for: ground.log_odds >= 0.0,
        weight: Weight::of(ground.log_odds).code().to_owned(),
        times: ground.log_odds.abs().exp().min(MOST_TIMES),
    };
    grounds.iter().map(view).collect()
}

fn measured(reading: &Reading) -> MeasuredView {
    let ReadingKept { test, value, range, lowest, highest, unit, .. } = reading.reading.clone();
    MeasuredView { test, value, range, lowest, highest, unit }
}

/// Beyond a million the number says nothing more, and JSON knows no infinity.
const MOST_TIMES: f64 = 1e6;

/// Results that would overturn a verdict.
pub(crate) fn overturns(circuit: &Circuit, overturns: &[Overturn]) -> Vec<OverturnView> {
    overturns.iter().map(|one| overturn(circuit, one)).collect()
}

fn overturn(circuit: &Circuit, overturn: &Overturn) -> OverturnView {
    let (result, from, to) = match overturn.result {
        PossibleResult::Between { from, to } => ("between", from, to),
        PossibleResult::OverLimit => ("over_limit", None, None),
        PossibleResult::Yes => ("yes", None, None),
        PossibleResult::No => ("no", None, None),
    };
    let test = circuit.tests.iter().find(|test| test.id == overturn.test);
    OverturnView {
        test: overturn.test.clone(),
        result: result.to_owned(),
        from,
        to,
        unit: test.map(|test| base_unit(test.mode)).unwrap_or_default().to_owned(),
        chance: overturn.chance,
        probability_after: overturn.probability_after,
        leading_after: cause_name_of(circuit, &overturn.leading_after),
    }
}

/// Unit in which the engine counts a mode.
fn base_unit(mode: MeasureMode) -> &'static str {
    match mode {
        MeasureMode::VoltsDc
        | MeasureMode::VoltsLowImpedance
        | MeasureMode::MillivoltsDc
        | MeasureMode::VoltsAc => "V",
        MeasureMode::Ohms => "ohm",
        MeasureMode::Amps | MeasureMode::AmpsClamp => "A",
        MeasureMode::Duty => "percent",
        MeasureMode::Hertz => "Hz",
        MeasureMode::Continuity | MeasureMode::Look | MeasureMode::YesNo => "",
    }
}
