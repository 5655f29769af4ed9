//! From the caller's observations to rows that may be multiplied.
//!
//! A mis-probe is common to all repeats at one placement: of those only the last counts. The complaint itself is a
//! row too, unless the caller's list already holds it.

use crate::diagnosis::Options;
use crate::error::CircuitError;
use crate::likelihood::{Row, Scale};
use crate::model::Model;
use crate::observation::{MeasureMode, Observation, ObservedValue, Present};
use crate::procedure::Test;
use crate::reading::{Measure, Predicted};

/// Rows in order of time, the complaint first.
pub(crate) fn rows_of(model: &mut Model<'_>, observations: &[Observation]) -> Result<Vec<Row>, CircuitError> {
    let mut rows: Vec<Row> = Vec::new();
    let mut placed: Vec<(usize, Present, u32)> = Vec::new();
    for (i, observation) in observations.iter().enumerate() {
        check(observation)?;
        let column = model.column_of(observation)?;
        let key = (column, observation.complaint, observation.placement);
        if let Some(same) = placed.iter().position(|known| *known == key) {
            rows.remove(same);
            placed.remove(same);
        }
        placed.push(key);
        rows.push(row_of(model, Some(i), column, observation));
    }
    for (row, (column, complaint, _)) in rows.iter_mut().zip(&placed) {
        let repeats = placed.iter().filter(|(other, when, _)| other == column && when == complaint).count();
        row.placements = f64::from(u32::try_from(repeats).unwrap_or(u32::MAX));
    }
    mark_earlier(&mut rows);
    if let Some(complaint) = complaint_row(model, observations)? {
        rows.insert(0, complaint);
    }
    Ok(rows)
}

fn check(observation: &Observation) -> Result<(), CircuitError> {
    let meter = !matches!(observation.mode, MeasureMode::Look | MeasureMode::YesNo);
    let sound = match observation.value {
        ObservedValue::Number(number) => meter && number.is_finite(),
        ObservedValue::OverLimit => observation.mode == MeasureMode::Ohms,
        ObservedValue::Yes | ObservedValue::No => !meter,
    };
    if sound {
        return Ok(());
    }
    Err(CircuitError::Observation {
        id: observation.id.clone(),
        problem:
            "value and mode don't go together: readings are numbers (over-limit only in ohms), looks and \
                  questions are yes or no"
                .to_owned(),
    })
}

fn row_of(model: &Model<'_>, place: Option<usize>, column: usize, observation: &Observation) -> Row {
    let asked = model.columns.get(column).and_then(|column| match column.measure {
        Measure::Question(test) => {
            model.wiring.circuit.tests.get(test).and_then(|test| test.question.as_ref())
        }
        Measure::Reading(..) => None,
    });
    Row {
        observation: place,
        column,
        mode: observation.mode,
        value: observation.value,
        complaint: observation.complaint,
        placements: 1.0,
        miss: asked.map_or(0.0, |question| question.miss),
        false_alarm: asked.map_or(0.0, |question| question.false_alarm),
        earlier: None,
    }
}

/// Lower-middle reading of the other placements, so that the order of readings plays no part; the first row of a
/// column in value order has none.
fn mark_earlier(rows: &mut [Row]) {
    let known: Vec<(usize, Present, f64)> = rows
        .iter()
        .filter_map(|row| match row.value {
            ObservedValue::Number(value) => Some((row.column, row.complaint, value)),
            _ => None,
        })
        .collect();
    let mut anchored: Vec<(usize, Present)> = Vec::new();
    for row in rows {
        let mut same: Vec<f64> = known
            .iter()
            .filter(|(column, complaint, _)| *column == row.column && *complaint == row.complaint)
            .map(|(_, _, value)| *value)
            .collect();
        same.sort_by(f64::total_cmp);
        let middle = same.get(same.len().saturating_sub(1) / 2).copied();
        let is_middle =
            matches!((row.value, middle), (ObservedValue::Number(value), Some(middle)) if value == middle);
        if is_middle && !anchored.contains(&(row.column, row.complaint)) {
            anchored.push((row.column, row.complaint));
        } else if same.len() > 1 {
            row.earlier = middle;
        }
    }
}

fn complaint_row(model: &mut Model<'_>, observations: &[Observation]) -> Result<Option<Row>, CircuitError> {
    let circuit = model.wiring.circuit;
    let complaint = &circuit.complaint;
    let value = if complaint.answer { ObservedValue::Yes } else { ObservedValue::No };
    let said = |seen: &Observation| seen.test.as_ref() == Some(&complaint.test) && seen.value == value;
    if observations.iter().any(said) {
        return Ok(None);
    }
    let Some(test) = circuit.tests.iter().find(|test| test.id == complaint.test) else { return Ok(None) };
    let observation = as_observation(test, value);
    let column = model.column_of(&observation)?;
    Ok(Some(row_of(model, None, column, &observation)))
}

fn as_observation(test: &Test, value: ObservedValue) -> Observation {
    Observation {
        id: String::new(),
        test: Some(test.id.clone()),
        mode: test.mode,
        red: test.red.clone(),
        black: test.black.clone(),
        value,
        state: test.state.clone(),
        load: test.load.clone(),
        complaint: Present::Yes,
        placement: 0,
        ..Observation::default()
    }
}

/// Takes the battery's volts from readings across its posts with little load, where they are near the nominal.
/// Readings farther off are left to the battery's own faults.
pub(crate) fn learn_battery(
    model: &mut Model<'_>,
    rows: &[Row],
    options: &Options,
) -> Result<(), CircuitError> {
    let Some((part, nominal)) = model.battery else { return Ok(()) };
    let posts = model.wiring.parts.get(part).map(|part| (part.a, part.b));
    let scale = Scale::new(model.meter, options);
    let spread = model.scatter.battery_sigma;
    let (mut weight, mut sum) = (spread.powi(-2), nominal * spread.powi(-2));
    for row in rows {
        let column = model.columns.get(row.column).map(|column| column.measure.clone());
        let (Some(Measure::Reading(MeasureMode::VoltsDc, red, black)), ObservedValue::Number(reading)) =
            (column, row.value)
        else {
            continue;
        };
        let Some(Predicted::Value { value, .. }) =
            model.with_faults(&[row.column], &[])?.first().copied().filter(|_| posts == Some((red, black)))
        else {
            continue;
        };
        let (volts, sigma) =
            (reading * nominal / value, scale.sigma(row.mode, reading) * row.placements.sqrt());
        let near = (volts - nominal).abs() <= 3.0 * spread.hypot(sigma);
        if near && (value / nominal - 1.0).abs() < 0.005 {
            weight += sigma.powi(-2);
            sum += volts * sigma.powi(-2);
        }
    }
    model.battery = Some((part, sum / weight));
    model.scatter.battery_sigma = weight.sqrt().recip();
    Ok(())
}
