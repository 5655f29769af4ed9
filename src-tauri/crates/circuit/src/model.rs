//! Every cause's prediction for every reading: the table that inference and test choice read from.

use std::collections::BTreeMap;

use crate::cause::{Cause, causes_of};
use crate::component::ComponentKind;
use crate::curve::{Curve, Solved};
use crate::diagnosis::Options;
use crate::error::CircuitError;
use crate::meter::Meter;
use crate::observation::{MeasureMode, Observation, State};
use crate::procedure::Test;
use crate::reading::{Measure, Predicted, Scatter, View};
use crate::settle::{Settled, settle, settle_near};
use crate::wiring::{Failing, Position, Setting, Wiring};

/// One thing that can be looked at in one setting.
#[derive(Debug, Clone)]
pub(crate) struct Column {
    pub measure: Measure,
    setting: usize,
    pub healthy: Predicted,
    /// One curve per cause.
    pub curves: Vec<Curve>,
}

/// Circuit, meter and causes with their predictions.
pub(crate) struct Model<'a> {
    pub wiring: Wiring<'a>,
    pub meter: &'a Meter,
    pub causes: Vec<Cause>,
    pub columns: Vec<Column>,
    settings: Vec<(Setting, Option<String>)>,
    pub scatter: Scatter,
    /// Battery part with its volts as known from readings across its posts.
    pub battery: Option<(usize, f64)>,
}

impl<'a> Model<'a> {
    pub fn new(
        circuit: &'a crate::Circuit,
        meter: &'a Meter,
        options: &Options,
    ) -> Result<Self, CircuitError> {
        let wiring = Wiring::of(circuit)?;
        let causes = causes_of(&wiring, options.points_per_decade);
        let battery = wiring.parts.iter().enumerate().find_map(|(i, part)| match part.component.kind {
            ComponentKind::Battery { volts, volts_spread, .. } => Some((i, volts, volts_spread)),
            _ => None,
        });
        let scatter = Scatter { battery_sigma: battery.map_or(0.0, |(_, _, sigma)| sigma) };
        let battery = battery.map(|(part, volts, _)| (part, volts));
        Ok(Self { wiring, meter, causes, columns: Vec::new(), settings: Vec::new(), scatter, battery })
    }

    /// Column of an observation, added if new. Curves stay empty until [`Model::fill`].
    pub fn column_of(&mut self, observation: &Observation) -> Result<usize, CircuitError> {
        let wrong = |problem: &str| CircuitError::Observation {
            id: observation.id.clone(),
            problem: problem.to_owned(),
        };
        if matches!(observation.mode, MeasureMode::Look | MeasureMode::YesNo) {
            let id = observation.test.as_deref().ok_or_else(|| wrong("a look or question needs its test"))?;
            let test = self.wiring.circuit.tests.iter().position(|test| test.id == id);
            let test = test.ok_or_else(|| CircuitError::Unknown { kind: "test", id: id.to_owned() })?;
            let asks = self.wiring.circuit.tests.get(test).is_some_and(|test| test.question.is_some());
            return if asks {
                self.column(Measure::Question(test), &observation.state, observation.load.as_deref())
            } else {
                Err(wrong("this test is a reading; give its mode and leads"))
            };
        }
        let leads = observation.red.as_deref().zip(observation.black.as_deref());
        let (red, black) = leads.ok_or_else(|| wrong("a reading needs both leads"))?;
        let (red, black) = (self.wiring.point(red)?, self.wiring.point(black)?);
        let measure = Measure::Reading(observation.mode, red, black);
        self.column(measure, &observation.state, observation.load.as_deref())
    }

    /// Column of a test of the circuit; nothing when the meter has no such mode.
    pub fn column_of_test(&mut self, number: usize, test: &Test) -> Result<Option<usize>, CircuitError> {
        if test.mode == MeasureMode::VoltsLowImpedance && self.meter.low_impedance_ohms.is_none() {
            return Ok(None);
        }
        let measure = match (&test.red, &test.black) {
            (Some(red), Some(black)) => {
                Measure::Reading(test.mode, self.wiring.point(red)?, self.wiring.point(black)?)
            }
            _ => Measure::Question(number),
        };
        self.column(measure, &test.state, test.load.as_deref()).map(Some)
    }

    pub fn column(
        &mut self,
        measure: Measure,
        state: &State,
        load: Option<&str>,
    ) -> Result<usize, CircuitError> {
        let setting = self.setting(&measure, state, load)?;
        let same = |column: &Column| column.setting == setting && column.measure == measure;
        if let Some(found) = self.columns.iter().position(same) {
            return Ok(found);
        }
        self.columns.push(Column { measure, setting, healthy: Predicted::Anything, curves: Vec::new() });
        Ok(self.columns.len() - 1)
    }

    fn setting(
        &mut self,
        measure: &Measure,
        state: &State,
        load: Option<&str>,
    ) -> Result<usize, CircuitError> {
        let mut setting = self.wiring.setting(state, load)?;
        if let Measure::Reading(mode, a, b) = *measure {
            self.wiring.put_meter(&mut setting, mode, a, b, self.meter);
        }
        let same = |(known, with): &(Setting, Option<String>)| {
            known.state == setting.state
                && known.added == setting.added
                && known.present == setting.present
                && with.as_deref() == load
        };
        if let Some(found) = self.settings.iter().position(same) {
            return Ok(found);
        }
        self.settings.push((setting, load.map(str::to_owned)));
        Ok(self.settings.len() - 1)
    }

    /// Takes the battery's volts from what is known now, then solves every cause for these columns.
    pub fn fill(&mut self, columns: &[usize]) -> Result<(), CircuitError> {
        self.know_battery();
        self.solve_columns(columns, |_| true)
    }

    /// Solves the columns that are still empty, for the causes that still count; for the others they stay empty.
    pub fn fill_rest(&mut self, counts: impl Fn(usize) -> bool) -> Result<(), CircuitError> {
        let empty = self.columns.iter().enumerate().filter(|(_, column)| column.curves.is_empty());
        let empty: Vec<usize> = empty.map(|(i, _)| i).collect();
        self.solve_columns(&empty, counts)
    }

    fn solve_columns(
        &mut self,
        columns: &[usize],
        counts: impl Fn(usize) -> bool,
    ) -> Result<(), CircuitError> {
        let mut by_setting: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (i, column) in columns.iter().filter_map(|i| Some((*i, self.columns.get(*i)?))) {
            by_setting.entry(column.setting).or_default().push(i);
        }
        for (setting, columns) in by_setting {
            let healthy = self.predictions(setting, &columns, &[], None)?;
            for (column, predicted) in columns.iter().zip(healthy.predicted) {
                if let Some(column) = self.columns.get_mut(*column) {
                    column.healthy = predicted;
                    column.curves = vec![Curve::default(); self.causes.len()];
                }
            }
            for cause in (0..self.causes.len()).filter(|cause| counts(*cause)) {
                self.fill_cause(setting, &columns, cause, &healthy.positions)?;
            }
        }
        Ok(())
    }

    fn know_battery(&mut self) {
        let Some((part, volts)) = self.battery else { return };
        let Some(ComponentKind::Battery { volts: nominal, .. }) =
            self.wiring.parts.get(part).map(|part| &part.component.kind)
        else {
            return;
        };
        for (setting, _) in &mut self.settings {
            if let Some(entry) = setting.volts.get_mut(part).filter(|entry| **entry == *nominal) {
                *entry = volts;
            }
        }
    }

    fn fill_cause(
        &mut self,
        setting: usize,
        columns: &[usize],
        cause: usize,
        healthy: &[Position],
    ) -> Result<(), CircuitError> {
        let Some(known) = self.causes.get(cause) else { return Ok(()) };
        let points = self.solve_along(setting, columns, known, healthy)?;
        let severities = known.severities.clone();
        for (place, column) in columns.iter().enumerate() {
            let mut curve = Curve::default();
            for piece in points.chunk_by(|left, right| left.signature == right.signature) {
                let solved: Vec<Solved> =
                    piece.iter().filter_map(|point| point.of(place, &severities)).collect();
                curve.add_piece(&solved);
            }
            if let Some(place) = self.columns.get_mut(*column).and_then(|column| column.curves.get_mut(cause))
            {
                *place = curve;
            }
        }
        Ok(())
    }

    /// Solves at every stride, and finds by halving the grid step where something moves.
    fn solve_along(
        &self,
        setting: usize,
        columns: &[usize],
        cause: &Cause,
        healthy: &[Position],
    ) -> Result<Vec<Along>, CircuitError> {
        let last = cause.severities.len() - 1;
        let along = |index: usize, near: &[Position]| -> Result<Along, CircuitError> {
            let solved = self.predictions(setting, columns, &[cause.failing(index)], Some(near))?;
            Ok(Along { index, ..solved })
        };
        let mut points = vec![along(0, healthy)?];
        let mut index = 0;
        while index < last {
            index = (index + cause.stride).min(last);
            let near = points.last().map_or(healthy, |point| &point.positions);
            let next = along(index, near)?;
            halve(&along, &mut points, next)?;
        }
        Ok(points)
    }

    fn predictions(
        &self,
        setting: usize,
        columns: &[usize],
        faults: &[Failing],
        near: Option<&[Position]>,
    ) -> Result<Along, CircuitError> {
        let Some((setting, _)) = self.settings.get(setting) else { return Ok(Along::default()) };
        let settled = match near {
            Some(near) => settle_near(&self.wiring, setting, faults, near)?,
            None => settle(&self.wiring, setting, faults)?,
        };
        let view = View {
            wiring: &self.wiring,
            meter: self.meter,
            setting,
            faults,
            settled: &settled,
            scatter: self.scatter,
        };
        let measured =
            columns.iter().filter_map(|column| self.columns.get(*column)).map(|column| &column.measure);
        let predicted: Vec<Predicted> = measured.clone().map(|measure| view.predict(measure)).collect();
        let signature = signature(&settled, measured.zip(&predicted));
        Ok(Along { index: 0, signature, predicted, positions: settled.positions })
    }

    /// Predictions with any faults at once, in the order of the columns.
    pub fn with_faults(&self, columns: &[usize], faults: &[Failing]) -> Result<Vec<Predicted>, CircuitError> {
        let mut known: BTreeMap<usize, Predicted> = BTreeMap::new();
        for column in columns {
            let Some(setting) = self.columns.get(*column).map(|column| column.setting) else { continue };
            if known.contains_key(column) {
                continue;
            }
            let same = |i: &usize| self.columns.get(*i).is_some_and(|column| column.setting == setting);
            let together: Vec<usize> = columns.iter().copied().filter(same).collect();
            let predicted = self.predictions(setting, &together, faults, None)?.predicted;
            known.extend(together.into_iter().zip(predicted));
        }
        Ok(columns.iter().map(|column| known.get(column).copied().unwrap_or(Predicted::Anything)).collect())
    }
}

/// Adds `next`, after halving the gap where something moves in it.
fn halve(
    along: &impl Fn(usize, &[Position]) -> Result<Along, CircuitError>,
    points: &mut Vec<Along>,
    next: Along,
) -> Result<(), CircuitError> {
    let Some(before) = points.last() else { return Ok(()) };
    let gap = next.index - before.index;
    let alone = points.iter().rev().nth(1).is_none_or(|earlier| earlier.signature != before.signature);
    let moved = before.signature != next.signature;
    // A piece that starts here needs a third point of its own.
    if gap > 1 && (moved || alone) {
        let middle = along(before.index + gap / 2, &before.positions)?;
        if moved || middle.signature != next.signature {
            halve(along, points, middle)?;
            return halve(along, points, next);
        }
        points.push(middle);
    }
    points.push(next);
    Ok(())
}

/// A solved grid point with all columns of its setting.
#[derive(Debug, Clone, Default)]
struct Along {
    index: usize,
    signature: Vec<u8>,
    predicted: Vec<Predicted>,
    positions: Vec<Position>,
}

impl Along {
    fn of(&self, place: usize, severities: &[f64]) -> Option<Solved> {
        let predicted = *self.predicted.get(place)?;
        Some(Solved { index: self.index, severity: *severities.get(self.index)?, predicted })
    }
}

/// Equal signatures mean the same linear piece: the same positions, and the same answers to questions.
fn signature<'p>(
    settled: &Settled,
    predicted: impl Iterator<Item = (&'p Measure, &'p Predicted)>,
) -> Vec<u8> {
    let positions = settled.positions.iter().map(|position| *position as u8);
    let kinds = predicted.map(|(measure, predicted)| match (measure, predicted) {
        (Measure::Question(_), Predicted::Value { value, .. }) => 10 + u8::from(*value > 0.5),
        (Measure::Reading(MeasureMode::Duty, ..), Predicted::Value { value, .. }) if *value > 50.0 => 11,
        (Measure::Reading(..), Predicted::Value { .. }) => 12,
        (_, Predicted::OverLimit) => 13,
        (_, Predicted::Anything) => 14,
    });
    positions.chain([u8::from(settled.steady)]).chain(kinds).collect()
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Curves through three solves must equal solving at every severity.
    #[test]
    fn curves_equal_solves() {
        for circuit in crate::library::all().unwrap() {
            let meter = Meter::default();
            let options = Options { points_per_decade: 24, ..Options::default() };
            let mut model = Model::new(&circuit, &meter, &options).unwrap();
            for (number, test) in circuit.tests.iter().enumerate() {
                model.column_of_test(number, test).unwrap();
            }
            let columns: Vec<usize> = (0..model.columns.len()).collect();
            model.fill(&columns).unwrap();
            for (number, cause) in model.causes.iter().enumerate() {
                for (i, severity) in cause.severities.iter().enumerate() {
                    let columns: Vec<usize> = (0..model.columns.len()).collect();
                    let direct = model.with_faults(&columns, &[cause.failing(i)]).unwrap();
                    for (column, direct) in model.columns.iter().zip(direct) {
                        let curve = column.curves[number].at(i, *severity);
                        let same = match (curve, direct) {
                            (
                                Predicted::Value { value, scatter },
                                Predicted::Value { value: exact, scatter: wide },
                            ) => {
                                (value - exact).abs() < 1e-6 * exact.abs().max(1.0)
                                    && (scatter - wide).abs() < 0.02 + 0.15 * wide
                            }
                            (curve, direct) => curve == direct,
                        };
                        let what = (&circuit.id, &cause.id, severity, &column.measure);
                        assert!(same, "{what:?}: curve {curve:?}, solved {direct:?}");
                    }
                }
            }
        }
    }
}
