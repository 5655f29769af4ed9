//! From the caller's observations to rows that may be multiplied.
//!
//! A mis-probe is common to all repeats at one placement: of those only the last counts. The complaint itself is a
//! row too, unless the caller's list already holds it.
//!
//! The parts' scatter is common to all placements of one reading, so that many of them say hardly more than few: where
//! there are more than five, five stand for all (the five-number summary: Tukey, Exploratory Data Analysis, 1977). A job
//! may hold thousands of readings; what it holds of different ones is bounded by its circuit.

use std::collections::BTreeMap;

use crate::error::CircuitError;
use crate::file::observation::{MeasureMode, Observation, ObservedValue, Present};
use crate::file::procedure::Test;
use crate::predict::model::Model;
use crate::predict::reading::Measure;
use crate::weigh::belief::SHARED;

/// One observation, ready to be weighed.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    /// Place in the caller's list; none for the complaint itself.
    pub observation: Option<usize>,
    pub column: usize,
    pub meter: usize,
    pub mode: MeasureMode,
    pub value: ObservedValue,
    pub complaint: Present,
    /// Number of placements of this reading: the parts' scatter is common to all of them, so σ grows with its root.
    pub placements: f64,
    /// Those with the same meter: so is what is left of the meter's own error.
    pub same_meter: f64,
    pub miss: f64,
    pub false_alarm: f64,
    /// Reading at an earlier placement, for the cause that predicts nothing itself.
    pub earlier: Option<f64>,
    /// Battery volts in its state: what a lead on a wrong point often shows.
    pub rail: f64,
    /// Places of the battery's volts and of the meter's gain among what readings share.
    pub supply: Option<usize>,
    pub gain: Option<usize>,
}

impl Row {
    /// The complaint itself, not an observation of the caller's.
    pub const fn is_the_complaint(&self) -> bool {
        self.observation.is_none()
    }
}

/// Rows with what they share.
#[derive(Debug, Clone)]
pub(crate) struct Rows {
    /// In order of time, the complaint first.
    pub rows: Vec<Row>,
    /// Place of the battery's volts among what is shared.
    pub supply: Option<usize>,
    shared: Vec<Shared>,
}

/// Something readings share.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Shared {
    /// Battery volts of these states (bits of their nominal).
    Supply(u64),
    /// Gain of a meter, in one of its sorts of reading.
    Gain(usize, MeasureMode),
}

impl Rows {
    /// Rows of the observations, each with its column, with what they share.
    ///
    /// # Errors
    /// Unknown names; a value and a mode that don't go together.
    pub fn of(
        model: &mut Model<'_>,
        observations: &[Observation],
        columns: &[usize],
    ) -> Result<Self, CircuitError> {
        observations.iter().try_for_each(check)?;
        let mut rows: Vec<Row> = Vec::new();
        for i in standing(observations, columns) {
            if let (Some(observation), Some(column)) = (observations.get(i), columns.get(i)) {
                rows.push(row_of(model, Some(i), *column, observation)?);
            }
        }
        count_placements(model, &mut rows);
        mark_earlier(&mut rows);
        if let Some(complaint) = complaint_row(model, observations)? {
            rows.insert(0, complaint);
        }
        let mut all = Self { rows, supply: None, shared: Vec::new() };
        all.share(model);
        Ok(all)
    }

    /// Gives what readings share its places, in an order that doesn't hang on the readings' order.
    fn share(&mut self, model: &Model<'_>) {
        let numbers = self.rows.iter().filter(|row| matches!(row.value, ObservedValue::Number(_)));
        let mut supplies: Vec<u64> = numbers.clone().filter_map(|row| model.supply_of(row.column)).collect();
        let mut gains: Vec<(usize, MeasureMode)> =
            numbers.map(|row| (row.meter, sort_of(row.mode))).collect();
        supplies.sort_unstable();
        supplies.dedup();
        gains.sort_unstable();
        gains.dedup();
        let gains = gains.into_iter().map(|(meter, mode)| Shared::Gain(meter, mode));
        self.shared = supplies.into_iter().map(Shared::Supply).chain(gains).take(SHARED).collect();
        self.supply = self.shared.iter().position(|shared| matches!(shared, Shared::Supply(_)));
        let mut rows = std::mem::take(&mut self.rows);
        for row in &mut rows {
            (row.supply, row.gain) = self.places(model, row.column, row.meter, row.mode);
        }
        self.rows = rows;
    }

    /// Places of the battery's volts and of the meter's gain for a reading.
    pub fn places(
        &self,
        model: &Model<'_>,
        column: usize,
        meter: usize,
        mode: MeasureMode,
    ) -> (Option<usize>, Option<usize>) {
        let place = |wanted: Shared| self.shared.iter().position(|shared| *shared == wanted);
        let supply = model.supply_of(column).and_then(|volts| place(Shared::Supply(volts)));
        (supply, place(Shared::Gain(meter, sort_of(mode))))
    }
}

/// Placements of one reading that are weighed.
const PLACEMENTS: usize = 5;

/// Places of the observations that are weighed, in order of time: the last one of each placement, and of many placements
/// of one reading those that stand for all.
fn standing(observations: &[Observation], columns: &[usize]) -> Vec<usize> {
    let mut last: BTreeMap<(usize, Present, u32), usize> = BTreeMap::new();
    for (i, (observation, column)) in observations.iter().zip(columns).enumerate() {
        last.insert((*column, showing(observation), observation.placement), i);
    }
    let mut readings: BTreeMap<(usize, Present), Vec<usize>> = BTreeMap::new();
    for ((column, complaint, _), i) in last {
        readings.entry((column, complaint)).or_default().push(i);
    }
    let mut all: Vec<usize> =
        readings.into_values().flat_map(|placements| summary(observations, placements)).collect();
    all.sort_unstable();
    all
}

/// The least, the quarter, the middle, the three quarters and the greatest; of the same values the latest.
fn summary(observations: &[Observation], mut placements: Vec<usize>) -> Vec<usize> {
    let (count, steps) = (placements.len(), PLACEMENTS - 1);
    if count <= PLACEMENTS {
        return placements;
    }
    let value = |i: &usize| observations.get(*i).map_or((0, 0.0), |observation| in_order(observation.value));
    placements.sort_by(|left, right| {
        let ((kind, number), (other_kind, other)) = (value(left), value(right));
        kind.cmp(&other_kind).then(number.total_cmp(&other)).then(left.cmp(right))
    });
    (0..=steps).filter_map(|step| placements.get(step * (count - 1) / steps).copied()).collect()
}

/// Numbers by their size, over-limit above all of them; no before yes.
const fn in_order(value: ObservedValue) -> (u8, f64) {
    match value {
        ObservedValue::Number(number) => (0, number),
        ObservedValue::OverLimit => (1, 0.0),
        ObservedValue::No => (2, 0.0),
        ObservedValue::Yes => (3, 0.0),
    }
}

/// Modes that go through the same input share its gain.
const fn sort_of(mode: MeasureMode) -> MeasureMode {
    match mode {
        MeasureMode::VoltsLowImpedance => MeasureMode::VoltsDc,
        mode => mode,
    }
}

fn check(observation: &Observation) -> Result<(), CircuitError> {
    let meter = !matches!(observation.mode, MeasureMode::Look | MeasureMode::YesNo);
    let sound = match observation.value {
        ObservedValue::Number(number) => meter && number.is_finite(),
        ObservedValue::OverLimit => {
            matches!(observation.mode, MeasureMode::Ohms | MeasureMode::MillivoltsDc | MeasureMode::Duty)
        }
        ObservedValue::Yes | ObservedValue::No => !meter,
    };
    if sound {
        return Ok(());
    }
    Err(CircuitError::Observation {
        id: observation.id.clone(),
        problem:
            "value and mode don't go together: readings are numbers (over-limit only in ohms, millivolts and \
                  duty), looks and questions are yes or no"
                .to_owned(),
    })
}

fn row_of(
    model: &Model<'_>,
    place: Option<usize>,
    column: usize,
    observation: &Observation,
) -> Result<Row, CircuitError> {
    let asked = model.columns.get(column).and_then(|column| match column.measure {
        Measure::Question(test) => model.circuit().tests.get(test).and_then(|test| test.question.as_ref()),
        Measure::Reading(..) => None,
    });
    Ok(Row {
        observation: place,
        column,
        meter: model.meter_of(observation)?,
        mode: observation.mode,
        value: observation.value,
        complaint: showing(observation),
        placements: 1.0,
        same_meter: 1.0,
        miss: asked.map_or(0.0, |question| question.miss),
        false_alarm: asked.map_or(0.0, |question| question.false_alarm),
        earlier: None,
        rail: model.supply_of(column).map_or(0.0, f64::from_bits),
        supply: None,
        gain: None,
    })
}

/// Damage stays to be seen while the complaint is away, and what is whole stays whole.
const fn showing(observation: &Observation) -> Present {
    if matches!(observation.mode, MeasureMode::Look) { Present::Yes } else { observation.complaint }
}

/// A second meter at the same points shares the parts' scatter, but not the first meter's own error.
fn count_placements(model: &Model<'_>, rows: &mut [Row]) {
    let known: Vec<(usize, Present)> = rows.iter().map(|row| (row.column, row.complaint)).collect();
    let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    for row in rows {
        let all = known.iter().filter(|(_, complaint)| *complaint == row.complaint);
        row.placements =
            count(all.clone().filter(|(other, _)| model.same_reading(*other, row.column)).count());
        row.same_meter = count(all.filter(|(other, _)| *other == row.column).count());
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
    let circuit = model.circuit();
    let complaint = &circuit.complaint;
    let value = if complaint.answer { ObservedValue::Yes } else { ObservedValue::No };
    let said = |seen: &Observation| seen.test.as_ref() == Some(&complaint.test) && seen.value == value;
    if observations.iter().any(said) {
        return Ok(None);
    }
    let Some(test) = circuit.tests.iter().find(|test| test.id == complaint.test) else { return Ok(None) };
    let observation = as_observation(test, value);
    let column = model.column_of(&observation)?;
    row_of(model, None, column, &observation).map(Some)
}

fn as_observation(test: &Test, value: ObservedValue) -> Observation {
    Observation {
        test: Some(test.id.clone()),
        mode: test.mode,
        red: test.red.clone(),
        black: test.black.clone(),
        value,
        state: test.state.clone(),
        load: test.load.clone(),
        complaint: Present::Yes,
        ..Observation::default()
    }
}
