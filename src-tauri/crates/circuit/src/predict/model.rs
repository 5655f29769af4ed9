//! Every cause's prediction for every reading: the table that inference and test choice read from.

use std::collections::BTreeMap;
use std::sync::Arc;

use crate::answer::options::Options;
use crate::error::CircuitError;
use crate::file::layout::Circuit;
use crate::file::meter::Meter;
use crate::file::observation::{MeasureMode, Observation, State};
use crate::file::procedure::Test;
use crate::predict::cause::{Cause, causes_of};
use crate::predict::curve::Curve;
use crate::predict::reading::{Measure, Predicted, View};
use crate::predict::sweep::{Along, Closeness, curves_along};
use crate::solve::part::{Failing, Position};
use crate::solve::settle::{settle, settle_near};
use crate::solve::wiring::{Setting, Wiring};

/// One thing that can be looked at in one setting.
#[derive(Debug, Clone)]
pub(crate) struct Column {
    pub measure: Measure,
    pub meter: usize,
    /// Highest value the display shows, where less than the meter can.
    range: Option<f64>,
    setting: usize,
    pub healthy: Predicted,
    /// One curve per cause.
    pub curves: Vec<Curve>,
}

/// Circuit, meters and causes with their predictions. A copy shares what is computed already.
#[derive(Debug, Clone)]
pub(crate) struct Model<'a> {
    pub wiring: Arc<Wiring<'a>>,
    /// The job's meter, then the others.
    pub meters: Arc<Vec<Meter>>,
    pub causes: Arc<Vec<Cause>>,
    pub columns: Vec<Arc<Column>>,
    settings: Vec<Arc<KnownSetting>>,
    /// The state in which the complaint shows.
    pub(super) shown: Option<Arc<Setting>>,
}

/// A state with a load and a meter in place.
#[derive(Debug)]
struct KnownSetting {
    setting: Setting,
    load: Option<String>,
}

impl<'a> Model<'a> {
    /// With no column yet.
    ///
    /// # Errors
    /// As [`Wiring::of`].
    pub fn new(circuit: &'a Circuit, meter: &Meter, options: &Options) -> Result<Self, CircuitError> {
        let wiring = Wiring::of(circuit)?;
        let causes = causes_of(&wiring);
        let complains = circuit.tests.iter().find(|test| test.id == circuit.complaint.test);
        let shown = match complains {
            Some(test) => Some(Arc::new(wiring.setting(&test.state, test.load.as_deref())?)),
            None => None,
        };
        let meters = std::iter::once(meter).chain(&options.meters).cloned().collect();
        Ok(Self {
            wiring: Arc::new(wiring),
            meters: Arc::new(meters),
            causes: Arc::new(causes),
            columns: Vec::new(),
            settings: Vec::new(),
            shown,
        })
    }

    pub fn circuit(&self) -> &'a Circuit {
        self.wiring.circuit
    }

    /// Column of an observation, added if new. Curves stay empty until [`Model::fill`].
    ///
    /// # Errors
    /// Unknown point, test, meter, state or load; a reading without its leads, a question without its test.
    pub fn column_of(&mut self, observation: &Observation) -> Result<usize, CircuitError> {
        let wrong = |problem: &str| CircuitError::Observation {
            id: observation.id.clone(),
            problem: problem.to_owned(),
        };
        if matches!(observation.mode, MeasureMode::Look | MeasureMode::YesNo) {
            let id = observation.test.as_deref().ok_or_else(|| wrong("a look or question needs its test"))?;
            let test = self.circuit().tests.iter().position(|test| test.id == id);
            let test = test.ok_or_else(|| CircuitError::Unknown { kind: "test", id: id.to_owned() })?;
            let asks = self.circuit().tests.get(test).is_some_and(|test| test.question.is_some());
            return if asks {
                self.column(
                    Measure::Question(test),
                    (0, None),
                    &observation.state,
                    observation.load.as_deref(),
                )
            } else {
                Err(wrong("this test is a reading; give its mode and leads"))
            };
        }
        let leads = observation.red.as_deref().zip(observation.black.as_deref());
        let (red, black) = leads.ok_or_else(|| wrong("a reading needs both leads"))?;
        let (red, black) = (self.wiring.point(red)?, self.wiring.point(black)?);
        let meter = self.meter_of(observation)?;
        let measure = Measure::Reading(observation.mode, red, black);
        let with = (meter, observation.over());
        self.column(measure, with, &observation.state, observation.load.as_deref())
    }

    /// Number of the meter an observation was taken with; the job's meter where it names none.
    ///
    /// # Errors
    /// A meter that isn't listed.
    pub fn meter_of(&self, observation: &Observation) -> Result<usize, CircuitError> {
        let Some(name) = &observation.meter else { return Ok(0) };
        let known = self.meters.iter().position(|meter| meter.name == *name);
        known.ok_or_else(|| CircuitError::Observation {
            id: observation.id.clone(),
            problem: format!("meter {name} isn't known; list it among the options' meters"),
        })
    }

    /// Column of a test of the circuit; nothing when the meter has no such mode.
    ///
    /// # Errors
    /// Unknown point, state or load.
    pub fn column_of_test(&mut self, number: usize, test: &Test) -> Result<Option<usize>, CircuitError> {
        let low = self.meters.first().is_some_and(|meter| meter.low_impedance_ohms.is_some());
        if test.mode == MeasureMode::VoltsLowImpedance && !low {
            return Ok(None);
        }
        let measure = match (&test.red, &test.black) {
            (Some(red), Some(black)) => {
                Measure::Reading(test.mode, self.wiring.point(red)?, self.wiring.point(black)?)
            }
            _ => Measure::Question(number),
        };
        self.column(measure, (0, None), &test.state, test.load.as_deref()).map(Some)
    }

    fn column(
        &mut self,
        measure: Measure,
        (meter, range): (usize, Option<f64>),
        state: &State,
        load: Option<&str>,
    ) -> Result<usize, CircuitError> {
        let setting = self.setting(&measure, meter, state, load)?;
        let same = |column: &Arc<Column>| {
            let with = (column.meter, column.range) == (meter, range);
            column.setting == setting && column.measure == measure && with
        };
        if let Some(found) = self.columns.iter().position(same) {
            return Ok(found);
        }
        let healthy = Predicted::Anything;
        let curves = Vec::new();
        self.columns.push(Arc::new(Column { measure, meter, range, setting, healthy, curves }));
        Ok(self.columns.len() - 1)
    }

    /// Forgets the solutions that lie at hand for further ones.
    pub fn clear_solutions(&self) {
        self.settings.iter().for_each(|known| known.setting.at_hand.clear());
    }

    fn setting(
        &mut self,
        measure: &Measure,
        meter: usize,
        state: &State,
        load: Option<&str>,
    ) -> Result<usize, CircuitError> {
        let mut setting = self.wiring.setting(state, load)?;
        if let (Measure::Reading(mode, a, b), Some(meter)) = (measure, self.meters.get(meter)) {
            self.wiring.put_meter(&mut setting, *mode, *a, *b, meter);
        }
        let same = |known: &Arc<KnownSetting>| {
            known.setting.state == setting.state
                && known.setting.added == setting.added
                && known.setting.present == setting.present
                && known.load.as_deref() == load
        };
        if let Some(found) = self.settings.iter().position(same) {
            return Ok(found);
        }
        self.settings.push(Arc::new(KnownSetting { setting, load: load.map(str::to_owned) }));
        Ok(self.settings.len() - 1)
    }

    /// Solves the causes that count for those of these columns that are still empty; for the others they show anything.
    ///
    /// # Errors
    /// A circuit without solution.
    pub fn fill(
        &mut self,
        columns: impl Iterator<Item = usize>,
        counts: impl Fn(usize) -> bool,
    ) -> Result<(), CircuitError> {
        let mut by_setting: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for i in columns {
            let empty = self.columns.get(i).filter(|column| column.curves.is_empty());
            if let Some(column) = empty {
                let together = by_setting.entry(column.setting).or_default();
                if !together.contains(&i) {
                    together.push(i);
                }
            }
        }
        for (setting, columns) in by_setting {
            let healthy = self.predictions(setting, &columns, &[], None)?;
            let mut curves: Vec<Vec<Curve>> = vec![Vec::with_capacity(self.causes.len()); columns.len()];
            for (number, cause) in self.causes.iter().enumerate() {
                let along = if counts(number) {
                    self.curves_with(setting, &columns, &[], cause, &healthy.positions)?
                } else {
                    vec![Curve::default(); columns.len()]
                };
                curves.iter_mut().zip(along).for_each(|(all, curve)| all.push(curve));
            }
            for ((place, predicted), curves) in columns.iter().zip(healthy.predicted).zip(curves) {
                if let Some(column) = self.columns.get_mut(*place) {
                    *column = Arc::new(Column { healthy: predicted, curves, ..column.as_ref().clone() });
                }
            }
        }
        Ok(())
    }

    /// The same thing looked at while the same parts are there, asked and fed: different states may come to the same.
    pub fn same_circuit(&self, left: usize, right: usize) -> bool {
        let at = |column: usize| {
            let column = self.columns.get(column)?;
            Some(((&column.measure, column.meter, column.range), &self.settings.get(column.setting)?.setting))
        };
        type Look<'l> = ((&'l Measure, usize, Option<f64>), &'l Setting);
        let same = |(left, right): (Look<'_>, Look<'_>)| {
            let (a, b) = (left.1, right.1);
            left.0 == right.0
                && (&a.present, &a.asked, &a.volts, &a.added) == (&b.present, &b.asked, &b.volts, &b.added)
        };
        left == right || at(left).zip(at(right)).is_some_and(same)
    }

    /// The same state and load, whatever the meter.
    pub fn same_place(&self, left: usize, right: usize) -> bool {
        let setting = |column: usize| {
            let known = self.settings.get(self.columns.get(column)?.setting)?;
            Some((&known.setting.state, &known.load))
        };
        left == right || setting(left).zip(setting(right)).is_some_and(|(left, right)| left == right)
    }

    /// The same thing looked at in the same state, whatever the meter.
    pub fn same_reading(&self, left: usize, right: usize) -> bool {
        let measure = |column: usize| self.columns.get(column).map(|column| &column.measure);
        left == right || (measure(left) == measure(right) && self.same_place(left, right))
    }

    /// Which battery volts a column's setting has: readings of other volts say nothing about these.
    pub fn supply_of(&self, column: usize) -> Option<u64> {
        let column = self.columns.get(column)?;
        let volts = &self.settings.get(column.setting)?.setting.volts;
        volts.iter().find(|volts| **volts > 0.0).map(|volts| volts.to_bits())
    }

    fn curves_with(
        &self,
        setting: usize,
        columns: &[usize],
        others: &[Failing],
        cause: &Cause,
        near: &[Position],
    ) -> Result<Vec<Curve>, CircuitError> {
        let solve = |u: f64, near: &[Position]| {
            let mut faults = others.to_vec();
            faults.push(cause.failing(u));
            let mut along = self.predictions(setting, columns, &faults, Some(near))?;
            along.u = u;
            Ok(along)
        };
        let closeness = if others.is_empty() { Closeness::full(cause) } else { Closeness::coarse(cause) };
        curves_along(cause, &closeness, columns.len(), near, &solve)
    }

    /// Curves of a cause beside other faults, in the order of the columns.
    ///
    /// # Errors
    /// A circuit without solution.
    pub fn curves_beside(
        &self,
        columns: &[usize],
        others: &[Failing],
        cause: &Cause,
    ) -> Result<Vec<Curve>, CircuitError> {
        let mut all = vec![Curve::default(); columns.len()];
        for (setting, places) in self.by_setting(columns) {
            let together: Vec<usize> =
                places.iter().filter_map(|place| columns.get(*place)).copied().collect();
            let near = self.predictions(setting, &[], others, None)?.positions;
            let curves = self.curves_with(setting, &together, others, cause, &near)?;
            for (place, curve) in places.iter().zip(curves) {
                if let Some(entry) = all.get_mut(*place) {
                    *entry = curve;
                }
            }
        }
        Ok(all)
    }

    /// Predictions with any faults at once, in the order of the columns.
    ///
    /// # Errors
    /// A circuit without solution.
    pub fn with_faults(&self, columns: &[usize], faults: &[Failing]) -> Result<Vec<Predicted>, CircuitError> {
        let mut all = vec![Predicted::Anything; columns.len()];
        for (setting, places) in self.by_setting(columns) {
            let together: Vec<usize> =
                places.iter().filter_map(|place| columns.get(*place)).copied().collect();
            let predicted = self.predictions(setting, &together, faults, None)?.predicted;
            for (place, predicted) in places.iter().zip(predicted) {
                if let Some(entry) = all.get_mut(*place) {
                    *entry = predicted;
                }
            }
        }
        Ok(all)
    }

    fn by_setting(&self, columns: &[usize]) -> BTreeMap<usize, Vec<usize>> {
        let mut all: BTreeMap<usize, Vec<usize>> = BTreeMap::new();
        for (place, column) in columns.iter().enumerate() {
            if let Some(column) = self.columns.get(*column) {
                all.entry(column.setting).or_default().push(place);
            }
        }
        all
    }

    fn predictions(
        &self,
        setting: usize,
        columns: &[usize],
        faults: &[Failing],
        near: Option<&[Position]>,
    ) -> Result<Along, CircuitError> {
        let Some(known) = self.settings.get(setting) else { return Ok(Along::default()) };
        let setting = &known.setting;
        let (faults, blown) = self.with_blown(setting, faults)?;
        let faults = faults.as_slice();
        let settled = match near {
            Some(near) => settle_near(&self.wiring, setting, faults, near)?,
            None => settle(&self.wiring, setting, faults)?,
        };
        let columns = columns.iter().filter_map(|column| self.columns.get(*column));
        let predict = |column: &Arc<Column>| {
            let meter = self.meters.get(column.meter).or(self.meters.first())?;
            let (wiring, range) = (&self.wiring, column.range);
            let view = View { wiring, meter, range, setting, faults, settled: &settled };
            Some(view.predict(&column.measure))
        };
        let predicted: Vec<Predicted> =
            columns.clone().map(|column| predict(column).unwrap_or(Predicted::Anything)).collect();
        let measures = columns.map(|column| &column.measure);
        Ok(Along::of(&settled, measures.zip(&predicted), predicted.clone()).with_blown(&blown))
    }
}
