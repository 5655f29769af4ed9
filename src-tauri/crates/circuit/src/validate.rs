//! Reading a circuit file and refusing one that contradicts itself.

use std::collections::{BTreeMap, BTreeSet};

use crate::component::{Component, ComponentKind, Conditions};
use crate::error::CircuitError;
use crate::fault::{FaultMode, FaultSpec};
use crate::layout::Circuit;
use crate::module::Module;
use crate::observation::{MeasureMode, State};
use crate::procedure::{Happening, Test};

impl Circuit {
    /// Reads and checks a circuit file.
    ///
    /// # Errors
    /// [`CircuitError::Unreadable`] with line and column, or [`CircuitError::Invalid`] with the place.
    pub fn from_json(text: &str) -> Result<Self, CircuitError> {
        let circuit: Self =
            serde_json::from_str(text).map_err(|error| CircuitError::Unreadable(error.to_string()))?;
        circuit.validate()?;
        Ok(circuit)
    }

    /// Checks every name and number against the others.
    ///
    /// # Errors
    /// [`CircuitError::Invalid`] with the first contradiction.
    pub fn validate(&self) -> Result<(), CircuitError> {
        let names = Names::of(self)?;
        names.check(self.format == 1, "format", "only format 1 is known")?;
        names.point("reference", &self.reference)?;
        names.test("complaint", &self.complaint.test)?;
        for connector in &self.connectors {
            for pin in &connector.pins {
                names.point(&format!("connectors/{}", connector.id), &pin.point)?;
            }
        }
        self.components.iter().try_for_each(|part| names.component_is_sound(part))?;
        for load in &self.loads {
            names.load_is_sound(load)?;
        }
        self.tests.iter().try_for_each(|test| names.test_is_sound(test))?;
        self.modules.iter().try_for_each(|module| names.module_is_sound(module))?;
        names.check(self.unmodelled_odds > 0.0, "unmodelled_odds", "must be above zero")
    }
}

struct Names<'a> {
    circuit: &'a str,
    points: BTreeSet<&'a str>,
    components: BTreeMap<&'a str, &'a Component>,
    tests: BTreeSet<&'a str>,
    loads: BTreeSet<&'a str>,
    variables: BTreeMap<&'a str, BTreeSet<&'a str>>,
}

impl<'a> Names<'a> {
    fn of(circuit: &'a Circuit) -> Result<Self, CircuitError> {
        let id = &circuit.id;
        let variables = circuit.variables.iter().map(|variable| {
            (variable.id.as_str(), variable.values.iter().map(|value| value.id.as_str()).collect())
        });
        let names = Self {
            circuit: id,
            points: unique(id, "points", circuit.points.iter().map(|point| point.id.as_str()))?,
            components: circuit.components.iter().map(|part| (part.id.as_str(), part)).collect(),
            tests: unique(id, "tests", circuit.tests.iter().map(|test| test.id.as_str()))?,
            loads: unique(id, "loads", circuit.loads.iter().map(|load| load.id.as_str()))?,
            variables: variables.collect(),
        };
        unique(id, "components", circuit.components.iter().map(|part| part.id.as_str()))?;
        for variable in &circuit.variables {
            let known = names
                .variables
                .get(variable.id.as_str())
                .is_some_and(|values| values.contains(variable.default.as_str()));
            names.check(known, &format!("variables/{}", variable.id), "default isn't one of its values")?;
        }
        Ok(names)
    }

    fn check(&self, sound: bool, place: &str, problem: &str) -> Result<(), CircuitError> {
        if sound {
            return Ok(());
        }
        Err(CircuitError::Invalid {
            circuit: self.circuit.to_owned(),
            place: place.to_owned(),
            problem: problem.to_owned(),
        })
    }

    fn point(&self, place: &str, id: &str) -> Result<(), CircuitError> {
        self.check(self.points.contains(id), place, &format!("point {id} isn't listed"))
    }

    fn test(&self, place: &str, id: &str) -> Result<(), CircuitError> {
        self.check(self.tests.contains(id), place, &format!("test {id} isn't listed"))
    }

    fn component(&self, place: &str, id: &str) -> Result<(), CircuitError> {
        self.check(self.components.contains_key(id), place, &format!("component {id} isn't listed"))
    }

    fn state(&self, place: &str, state: &State) -> Result<(), CircuitError> {
        state.iter().try_for_each(|(variable, value)| {
            let known = self.variables.get(variable.as_str()).is_some_and(|all| all.contains(value.as_str()));
            self.check(known, place, &format!("state {variable} = {value} isn't listed"))
        })
    }

    fn conditions(&self, place: &str, conditions: &Conditions) -> Result<(), CircuitError> {
        conditions.iter().try_for_each(|(variable, values)| {
            values
                .iter()
                .try_for_each(|value| self.state(place, &State::from([(variable.clone(), value.clone())])))
        })
    }

    fn component_is_sound(&self, part: &Component) -> Result<(), CircuitError> {
        let place = format!("components/{}", part.id);
        self.conditions(&place, &part.present_when)?;
        part.kind.points().into_iter().try_for_each(|point| self.point(&place, point))?;
        let positive = part.kind.positive_numbers().into_iter().all(|number| number > 0.0);
        self.check(positive, &place, "resistances, lengths, sections and limits must be above zero")?;
        match &part.kind {
            ComponentKind::Contact { coil, .. } => {
                let is_coil = self
                    .components
                    .get(coil.as_str())
                    .is_some_and(|part| matches!(part.kind, ComponentKind::Coil { .. }));
                self.check(is_coil, &place, &format!("{coil} isn't a coil"))?;
            }
            ComponentKind::Coil { pull_in_volts, drop_out_volts, .. } => {
                self.check(drop_out_volts < pull_in_volts, &place, "drop-out must be below pull-in")?;
            }
            ComponentKind::Switch { closed_when, .. } => self.conditions(&place, closed_when)?,
            ComponentKind::HighSideDriver { on_when, needs, .. }
            | ComponentKind::LowSideDriver { on_when, needs, .. } => {
                self.conditions(&place, on_when)?;
                for need in needs {
                    self.point(&place, &need.red)?;
                    self.point(&place, &need.black)?;
                }
            }
            _ => {}
        }
        part.faults.iter().try_for_each(|fault| self.fault_is_sound(&place, part, fault))
    }

    fn fault_is_sound(&self, place: &str, part: &Component, fault: &FaultSpec) -> Result<(), CircuitError> {
        let place = format!("{place}/faults/{:?}", fault.mode);
        self.check(fault.odds > 0.0, &place, "odds must be above zero")?;
        self.check((0.0..=1.0).contains(&fault.comes_and_goes), &place, "comes_and_goes is a share, 0 to 1")?;
        self.check(part.kind.can_have(fault.mode), &place, "this sort of part can't fail this way")?;
        let range = match (fault.min, fault.max) {
            (Some(min), Some(max)) => min > 0.0 && max > min,
            (None, None) => !fault.mode.has_severity(),
            _ => false,
        };
        self.check(range, &place, "modes with severity need 0 < min < max, the others neither")?;
        if let Some(at) = &fault.at {
            let own = part.kind.points().contains(&at.as_str());
            self.check(own, &place, "`at` must be one of the part's own points")?;
        }
        Ok(())
    }

    fn load_is_sound(&self, load: &crate::layout::SubstituteLoad) -> Result<(), CircuitError> {
        let place = format!("loads/{}", load.id);
        self.point(&place, &load.from)?;
        self.point(&place, &load.to)?;
        self.component(&place, &load.replaces)?;
        let normal = self.components.get(load.replaces.as_str()).and_then(|part| part.kind.load_ohms());
        // A heavier load than the part itself can destroy a module's output.
        let gentle = normal.is_some_and(|normal| load.ohms >= 0.9 * normal);
        self.check(gentle, &place, "must not draw more current than the part it stands for")
    }

    fn test_is_sound(&self, test: &Test) -> Result<(), CircuitError> {
        let place = format!("tests/{}", test.id);
        self.state(&place, &test.state)?;
        self.check(test.minutes > 0.0, &place, "minutes must be above zero")?;
        test.requires.iter().try_for_each(|needed| self.test(&place, &needed.test))?;
        if let Some(load) = &test.load {
            self.check(self.loads.contains(load.as_str()), &place, "load isn't listed")?;
        }
        match (test.mode, &test.red, &test.black, &test.question) {
            (MeasureMode::Look | MeasureMode::YesNo, None, None, Some(question)) => {
                let chances = [question.miss, question.false_alarm];
                let sound = chances.iter().all(|chance| (0.001..=0.5).contains(chance));
                self.check(sound, &place, "miss and false_alarm lie between 0.001 and 0.5")?;
                self.happening(&place, &question.happening)
            }
            (MeasureMode::Look | MeasureMode::YesNo, ..) => {
                self.check(false, &place, "a look or question needs `question` and no leads")
            }
            (_, Some(red), Some(black), None) => {
                self.point(&place, red)?;
                self.point(&place, black)
            }
            _ => self.check(false, &place, "a reading needs `red` and `black` and no `question`"),
        }
    }

    fn happening(&self, place: &str, happening: &Happening) -> Result<(), CircuitError> {
        match happening {
            Happening::CoilPullsIn { coil } => self.component(place, coil),
            Happening::PartWorks { component, .. } => self.component(place, component),
            Happening::ModuleSees { needs } => needs.iter().try_for_each(|need| {
                self.point(place, &need.red)?;
                self.point(place, &need.black)
            }),
            Happening::DamageSeen { components } => {
                components.iter().try_for_each(|component| self.component(place, component))
            }
        }
    }

    fn module_is_sound(&self, module: &Module) -> Result<(), CircuitError> {
        let place = format!("modules/{}", module.id);
        module.components.iter().try_for_each(|part| self.component(&place, part))?;
        self.test(&place, &module.inspection)?;
        for need in &module.evidence {
            need.tests.iter().try_for_each(|test| self.test(&place, test))?;
            let enough = need.looks >= 1 && need.looks <= need.tests.len();
            self.check(enough, &place, &format!("{}: looks must be 1 to the number of tests", need.id))?;
        }
        Ok(())
    }
}

impl FaultMode {
    /// Has a severity that is integrated over.
    #[must_use]
    pub const fn has_severity(self) -> bool {
        matches!(
            self,
            Self::HighResistance
                | Self::ShortToGround
                | Self::ShortToFeed
                | Self::Weak
                | Self::LowVoltage
                | Self::DrawsTooMuch
                | Self::ShortAcross
                | Self::LowDuty
        )
    }
}

fn unique<'a>(
    circuit: &str,
    place: &str,
    ids: impl Iterator<Item = &'a str>,
) -> Result<BTreeSet<&'a str>, CircuitError> {
    let mut seen = BTreeSet::new();
    for id in ids {
        if id.is_empty() || !seen.insert(id) {
            return Err(CircuitError::Invalid {
                circuit: circuit.to_owned(),
                place: place.to_owned(),
                problem: format!("name {id:?} is empty or used twice"),
            });
        }
    }
    Ok(seen)
}
