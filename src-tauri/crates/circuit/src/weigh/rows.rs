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
use crate::predict::reading::{Measure, Predicted};
use crate::weigh::belief::SHARED;
use crate::weigh::states::{NO_COLUMN, Placed, placed};

/// One observation, ready to be weighed.
#[derive(Debug, Clone)]
pub(crate) struct Row {
    /// Place in the caller's list; none for the complaint itself.
    pub observation: Option<usize>,
    pub column: usize,
    /// Logarithm of the chance that it was taken in that column's state, and the other columns it may belong to with theirs.
    /// None where the state is known.
    pub share: f64,
    pub further: Vec<(usize, f64)>,
    pub meter: usize,
    pub mode: MeasureMode,
    pub value: ObservedValue,
    pub complaint: Present,
    /// Chance that a fault that comes and goes showed, where nobody looked at the complaint.
    pub shows: f64,
    /// Number of placements of this reading: the parts' scatter is common to all of them, so σ grows with its root.
    pub placements: f64,
    /// Those with the same meter: so is what is left of the meter's own error.
    pub same_meter: f64,
    pub miss: f64,
    pub false_alarm: f64,
    /// The same question's answers before this one, no and yes: who overlooked something overlooks it again.
    pub answered: [u32; 2],
    /// Reading at an earlier placement, for the cause that predicts nothing itself.
    pub earlier: Option<f64>,
    /// Battery volts in its state, or a duty's usual value: what a lead on a wrong point often shows.
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

    /// Nobody knows in which state it was taken.
    pub const fn is_in_doubt(&self) -> bool {
        !self.further.is_empty()
    }

    /// Looked at the same thing in the same state, or in the same doubt about it.
    pub fn same_look(&self, other: &Self) -> bool {
        self.column == other.column && self.further == other.further
    }

    /// Every column it may belong to, with the logarithm of the chance.
    pub fn columns(&self) -> impl Iterator<Item = (usize, f64)> + Clone + '_ {
        std::iter::once((self.column, self.share)).chain(self.further.iter().copied())
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
        placed: &[Placed],
    ) -> Result<Self, CircuitError> {
        observations.iter().try_for_each(check)?;
        let mut rows: Vec<Row> = Vec::new();
        for i in standing(observations, placed) {
            if let (Some(observation), Some(placed)) = (observations.get(i), placed.get(i)) {
                rows.push(row_of(model, Some(i), placed, observation)?);
            }
        }
        count_placements(model, &mut rows);
        mark_earlier(&mut rows);
        if let Some(complaint) = complaint_row(model, observations)? {
            rows.insert(0, complaint);
        }
        count_answers(&mut rows);
        let mut all = Self { rows, supply: None, shared: Vec::new() };
        all.share(model);
        Ok(all)
    }

    /// Gives what readings share its places, in an order that doesn't hang on the readings' order.
    fn share(&mut self, model: &Model<'_>) {
        let numbers = self.rows.iter().filter(|row| matches!(row.value, ObservedValue::Number(_)));
        let known = numbers.clone().filter(|row| !row.is_in_doubt());
        let mut supplies: Vec<u64> = known.filter_map(|row| model.supply_of(row.column)).collect();
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
            // The battery's volts differ from state to state: here they count as the reading's own.
            row.supply = row.supply.filter(|_| !row.is_in_doubt());
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

/// A display may show a little more than its range is called (a 600 mV range shows 660).
const BEYOND_RANGE: f64 = 1.2;
/// Chance that a fault that comes and goes shows while nobody looks at the complaint; and while the circuit is wiggled, heated
/// or cooled (judgment).
const SHOWS: f64 = 0.5;
const SHOWS_WHEN_PROVOKED: f64 = 0.8;
/// Chance that a beep, or its absence, says nothing: a lead on a wrong point, a touch too short, a resistance near the threshold
/// (judgment).
const MISHEARD: f64 = 0.04;
/// Placements of one reading that are weighed.
const PLACEMENTS: usize = 5;

/// Places of the observations that are weighed, in order of time: the last one of each placement, and of many placements
/// of one reading those that stand for all.
fn standing(observations: &[Observation], placed: &[Placed]) -> Vec<usize> {
    let mut last: BTreeMap<(Vec<usize>, Present, u32), usize> = BTreeMap::new();
    for (i, (observation, placed)) in observations.iter().zip(placed).enumerate() {
        let columns = placed.columns.iter().map(|(column, _)| *column).collect();
        last.insert((columns, showing(observation), observation.placement), i);
    }
    let mut readings: BTreeMap<(Vec<usize>, Present), Vec<usize>> = BTreeMap::new();
    for ((columns, complaint, _), i) in last {
        readings.entry((columns, complaint)).or_default().push(i);
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
    let by_ear = observation.mode == MeasureMode::Continuity;
    let wrong = |problem: &str| {
        Err(CircuitError::Observation { id: observation.id.clone(), problem: problem.to_owned() })
    };
    if observation.range.is_some_and(|range| !(meter && range > 0.0 && range.is_finite())) {
        return wrong(
            "its range isn't above zero, or nothing was measured: write the highest value the range shows",
        );
    }
    let recorded = observation.lowest.iter().chain(&observation.highest);
    let in_order =
        observation.lowest.zip(observation.highest).is_none_or(|(lowest, highest)| lowest <= highest);
    if !in_order || recorded.clone().any(|number| !meter || !number.is_finite()) {
        return wrong(
            "lowest and highest of a recording aren't numbers of a meter in this order: correct them",
        );
    }
    let beyond = |number: f64| observation.range.is_some_and(|range| number.abs() > range * BEYOND_RANGE);
    let sound = match observation.value {
        ObservedValue::Number(number) if beyond(number) => {
            return wrong("the value is higher than its range shows: correct one of them");
        }
        ObservedValue::Number(number) => meter && !by_ear && number.is_finite(),
        ObservedValue::OverLimit => {
            let own = matches!(
                observation.mode,
                MeasureMode::Ohms | MeasureMode::MillivoltsDc | MeasureMode::Duty | MeasureMode::Hertz
            );
            own || (meter && observation.range.is_some())
        }
        ObservedValue::Yes | ObservedValue::No => !meter || by_ear,
    };
    if sound {
        return Ok(());
    }
    wrong(
        "value and mode don't go together: readings are numbers (over-limit in ohms, millivolts and duty, elsewhere with \
         the range it was read in), looks and questions are yes or no",
    )
}

fn row_of(
    model: &Model<'_>,
    place: Option<usize>,
    placed: &Placed,
    observation: &Observation,
) -> Result<Row, CircuitError> {
    let (column, share) = placed.columns.first().copied().unwrap_or((NO_COLUMN, 0.0));
    let asked = model.columns.get(column).and_then(|column| match column.measure {
        Measure::Question(test) => model.circuit().tests.get(test).and_then(|test| test.question.as_ref()),
        Measure::Reading(..) => None,
    });
    let by_ear = if observation.mode == MeasureMode::Continuity { MISHEARD } else { 0.0 };
    Ok(Row {
        observation: place,
        column,
        share,
        further: placed.columns.iter().skip(1).copied().collect(),
        meter: model.meter_of(observation)?,
        mode: observation.mode,
        value: observation.value,
        complaint: showing(observation),
        shows: if observation.condition.is_some() { SHOWS_WHEN_PROVOKED } else { SHOWS },
        placements: 1.0,
        same_meter: 1.0,
        miss: asked.map_or(by_ear, |question| question.miss),
        false_alarm: asked.map_or(by_ear, |question| question.false_alarm),
        answered: [0, 0],
        earlier: None,
        rail: match (observation.mode, model.columns.get(column).map(|column| column.healthy)) {
            (MeasureMode::Duty, Some(Predicted::Value { value, .. })) => value,
            _ => model.supply_of(column).map_or(0.0, f64::from_bits),
        },
        supply: None,
        gain: None,
    })
}

/// Damage stays to be seen while the complaint is away, and what is whole stays whole. What is wiggled, heated or cooled is
/// watched for a while: that nobody saw the complaint in that time doesn't say that the fault hid all along.
const fn showing(observation: &Observation) -> Present {
    match (observation.mode, observation.complaint, observation.condition) {
        (MeasureMode::Look, ..) => Present::Yes,
        (_, Present::No, Some(_)) => Present::Unknown,
        (_, complaint, _) => complaint,
    }
}

/// A second meter at the same points shares the parts' scatter, but not the first meter's own error.
fn count_placements(model: &Model<'_>, rows: &mut [Row]) {
    let known = rows.to_vec();
    let count = |n: usize| f64::from(u32::try_from(n).unwrap_or(u32::MAX));
    for row in rows {
        let all = known.iter().filter(|other| other.complaint == row.complaint);
        let same = |other: &&Row| {
            let doubt = (other.is_in_doubt(), row.is_in_doubt());
            other.same_look(row) || (doubt == (false, false) && model.same_reading(other.column, row.column))
        };
        row.placements = count(all.clone().filter(same).count());
        row.same_meter = count(all.filter(|other| other.same_look(row)).count());
    }
}

/// Counts the same question's earlier answers, where the truth is the same for all of them. Where it may have changed from one
/// to the next (nobody looked whether the fault showed, or in which state it was), each errs for itself: a right answer of
/// one would count as a wrong one of another, and the order of the two would play a part.
fn count_answers(rows: &mut [Row]) {
    for i in 0..rows.len() {
        let (before, rest) = rows.split_at_mut(i);
        let Some(row) = rest.first_mut() else { return };
        let settled = !row.is_in_doubt() && row.complaint != Present::Unknown;
        let alike = |other: &&Row| settled && other.same_look(row) && other.complaint == row.complaint;
        let mut answered = [0, 0];
        for other in before.iter().filter(alike) {
            match other.value {
                ObservedValue::No => answered[0] += 1,
                ObservedValue::Yes => answered[1] += 1,
                ObservedValue::Number(_) | ObservedValue::OverLimit => {}
            }
        }
        row.answered = answered;
    }
}

/// Lower-middle reading of the other placements, so that the order of readings plays no part; the first row of a
/// column in value order has none.
fn mark_earlier(rows: &mut [Row]) {
    let known = rows.to_vec();
    let mut anchored: Vec<usize> = Vec::new();
    for (i, row) in rows.iter_mut().enumerate() {
        let alike = |other: &Row| other.same_look(row) && other.complaint == row.complaint;
        let number = |other: &Row| match other.value {
            ObservedValue::Number(value) if alike(other) => Some(value),
            _ => None,
        };
        let mut same: Vec<f64> = known.iter().filter_map(number).collect();
        same.sort_by(f64::total_cmp);
        let middle = same.get(same.len().saturating_sub(1) / 2).copied();
        let is_middle =
            matches!((row.value, middle), (ObservedValue::Number(value), Some(middle)) if value == middle);
        if is_middle && !anchored.iter().filter_map(|i| known.get(*i)).any(alike) {
            anchored.push(i);
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
    let placed = placed(model, &observation)?;
    row_of(model, None, &placed, &observation).map(Some)
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
