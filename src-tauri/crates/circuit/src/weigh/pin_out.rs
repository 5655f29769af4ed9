//! Which pin is which, found together with the fault: the pins in doubt, what each may carry, and what was read at them.

use std::borrow::Cow;
use std::collections::BTreeMap;

use crate::answer::options::Options;
use crate::answer::pin_out::{PinOut, UnknownPins};
use crate::error::CircuitError;
use crate::file::layout::{Circuit, Pin};
use crate::file::observation::Observation;
use crate::weigh::pin_prior::permanent;

/// Most pins in doubt at once, of all connectors together: 40,320 ways.
const MOST: usize = 8;
/// Ways below this share aren't listed.
const WORTH_NAMING: f64 = 0.001;

/// The pins in doubt, connector by connector.
#[derive(Debug, Clone, Default)]
pub(crate) struct InDoubt<'c> {
    pub groups: Vec<Group<'c>>,
}

/// The pins in doubt of one connector. They carry each other's points, in an order that isn't known.
#[derive(Debug, Clone)]
pub(crate) struct Group<'c> {
    connector: String,
    /// What a pin is called in results and readings: by its number alone only on the first connector.
    prefix: String,
    pins: Vec<&'c Pin>,
    /// Chance that a pin (row) carries the point that the diagram gives to another (column).
    pub chances: Vec<Vec<f64>>,
}

/// A pin by its group and its place in it.
pub(crate) type PinPlace = (usize, usize);

/// One way the pins that were read at may be assigned, with its probability before any reading, whatever the others carry.
#[derive(Debug, Clone, Default)]
pub(crate) struct Way {
    pub carried: BTreeMap<PinPlace, usize>,
    pub prior: f64,
}

impl<'c> InDoubt<'c> {
    /// # Errors
    /// Unknown connector or pin; more pins in doubt than can be weighed; a connector named twice.
    pub fn of(circuit: &'c Circuit, options: &Options) -> Result<Self, CircuitError> {
        let mut groups: Vec<Group<'c>> = Vec::new();
        for unknown in options.unknown_pins.iter().chain(&options.further_unknown_pins) {
            let wrong = |problem: String| CircuitError::Invalid {
                circuit: circuit.id.clone(),
                place: format!("unknown_pins/{}", unknown.connector),
                problem,
            };
            if groups.iter().any(|group| group.connector == unknown.connector) {
                return Err(wrong(
                    "this connector is named twice; write all its pins in one entry".to_owned(),
                ));
            }
            let pins = unknown.pins_of(circuit)?;
            let all: usize = groups.iter().map(|group| group.pins.len()).sum();
            if all + pins.len() > MOST {
                let problem = format!("at most {MOST} pins can be in doubt at once; name those that are");
                return Err(wrong(problem));
            }
            let chances =
                |pin: &&Pin| pins.iter().map(|carries| unknown.chance(pin, carries, pins.len())).collect();
            let connector = unknown.connector.clone();
            let prefix = if groups.is_empty() { String::new() } else { format!("{connector}/") };
            groups.push(Group { chances: pins.iter().map(chances).collect(), connector, prefix, pins });
        }
        Ok(Self { groups })
    }

    /// The pins that were read at, in order of time.
    ///
    /// # Errors
    /// A pin that isn't among those in doubt.
    pub fn read_at(&self, observations: &[Observation]) -> Result<Vec<PinPlace>, CircuitError> {
        let mut all = Vec::new();
        for seen in observations {
            for place in self.pins_of(seen)?.into_iter().flatten() {
                if !all.contains(&place) {
                    all.push(place);
                }
            }
        }
        Ok(all)
    }

    /// The pins under the red and the black lead.
    ///
    /// # Errors
    /// As [`InDoubt::read_at`].
    pub fn pins_of(&self, seen: &Observation) -> Result<[Option<PinPlace>; 2], CircuitError> {
        let find = |pin: &Option<String>| {
            let Some(name) = pin else { return Ok(None) };
            self.find(name).map(Some).ok_or_else(|| CircuitError::Observation {
                id: seen.id.clone(),
                problem: format!("pin {name} isn't among the pins in doubt; name a point instead"),
            })
        };
        Ok([find(&seen.red_pin)?, find(&seen.black_pin)?])
    }

    /// A pin by its number (on the first connector) or by connector and number (`module_connector/4`).
    fn find(&self, name: &str) -> Option<PinPlace> {
        let at = |group: usize, number: &str| {
            let pins = &self.groups.get(group)?.pins;
            Some((group, pins.iter().position(|pin| pin.number == number)?))
        };
        at(0, name).or_else(|| {
            let (connector, number) = name.split_once('/')?;
            at(self.groups.iter().position(|group| group.connector == connector)?, number)
        })
    }

    fn point(&self, (group, _): PinPlace, carried: usize) -> Option<String> {
        Some(self.groups.get(group)?.pins.get(carried)?.point.clone())
    }

    /// The observations with points in the place of pins.
    ///
    /// # Errors
    /// A pin that isn't among those in doubt.
    pub fn assigned<'o>(
        &self,
        way: &Way,
        observations: &'o [Observation],
    ) -> Result<Cow<'o, [Observation]>, CircuitError> {
        if observations.iter().all(|seen| seen.red_pin.is_none() && seen.black_pin.is_none()) {
            return Ok(Cow::Borrowed(observations));
        }
        let one = |seen: &Observation| {
            let [red, black] = self.pins_of(seen)?;
            let carries = |place: Option<PinPlace>, point: &Option<String>| match place {
                None => point.clone(),
                Some(place) => way.carried.get(&place).and_then(|carried| self.point(place, *carried)),
            };
            Ok(Observation {
                red: carries(red, &seen.red),
                black: carries(black, &seen.black),
                ..seen.clone()
            })
        };
        observations.iter().map(one).collect::<Result<Vec<_>, _>>().map(Cow::Owned)
    }

    /// Whole pin-outs with their shares after the readings; none when no pin was in doubt. Pins that nobody read at follow
    /// from the others, the colors and the diagram.
    pub fn found(&self, ways: &[(Way, f64)]) -> Vec<PinOut> {
        let mut all = Vec::new();
        if !self.groups.is_empty() {
            for (way, share) in ways.iter().filter(|(_, share)| *share > WORTH_NAMING) {
                let rest: f64 = self.groups.iter().enumerate().map(|(g, group)| group.rest(g, way)).product();
                let of_pins: f64 =
                    way.carried.iter().map(|(place, carried)| self.chance(*place, *carried)).product();
                let start = share / (rest * of_pins).max(f64::MIN_POSITIVE);
                self.complete(way.carried.clone(), start * of_pins, &mut all);
            }
        }
        all.sort_by(|left, right| right.probability.total_cmp(&left.probability));
        all
    }

    pub fn chance(&self, (group, pin): PinPlace, carried: usize) -> f64 {
        let row = self.groups.get(group).and_then(|group| group.chances.get(pin));
        row.and_then(|row| row.get(carried)).copied().unwrap_or(0.0)
    }

    /// Assigns the pins that are left, as long as it is worth naming.
    fn complete(&self, carried: BTreeMap<PinPlace, usize>, share: f64, all: &mut Vec<PinOut>) {
        if share <= WORTH_NAMING {
            return;
        }
        let mut pins =
            self.groups.iter().enumerate().flat_map(|(g, group)| (0..group.pins.len()).map(move |i| (g, i)));
        let Some(next) = pins.find(|place| !carried.contains_key(place)) else {
            let name = |(place, carried): (&PinPlace, &usize)| {
                let group = self.groups.get(place.0)?;
                let pin = group.pins.get(place.1)?;
                Some((format!("{}{}", group.prefix, pin.number), group.pins.get(*carried)?.point.clone()))
            };
            all.push(PinOut { pins: carried.iter().filter_map(name).collect(), probability: share });
            return;
        };
        let many = self.groups.get(next.0).map_or(0, |group| group.pins.len());
        let taken = |j: usize| carried.iter().any(|(place, carried)| place.0 == next.0 && *carried == j);
        for j in (0..many).filter(|j| !taken(*j)) {
            let mut longer = carried.clone();
            longer.insert(next, j);
            self.complete(longer, share * self.chance(next, j), all);
        }
    }
}

impl Group<'_> {
    /// Sum over all orders of the pins that a way leaves open.
    pub fn rest(&self, own: usize, way: &Way) -> f64 {
        let mine = || way.carried.iter().filter(|(place, _)| place.0 == own);
        let open = |i: &usize| !mine().any(|((_, pin), _)| pin == i);
        let free = |j: usize| !mine().any(|(_, carried)| *carried == j);
        let rows = (0..self.pins.len()).filter(open).filter_map(|i| self.chances.get(i));
        let rows: Vec<Vec<f64>> = rows
            .map(|row| row.iter().enumerate().filter(|(j, _)| free(*j)).map(|(_, chance)| *chance).collect())
            .collect();
        permanent(&rows)
    }
}

impl UnknownPins {
    fn pins_of<'c>(&self, circuit: &'c Circuit) -> Result<Vec<&'c Pin>, CircuitError> {
        let unknown = |kind, id: &str| CircuitError::Unknown { kind, id: id.to_owned() };
        let connector = circuit.connectors.iter().find(|connector| connector.id == self.connector);
        let connector = connector.ok_or_else(|| unknown("connector", &self.connector))?;
        let find = |number: &String| {
            let pin = connector.pins.iter().find(|pin| pin.number == *number);
            pin.ok_or_else(|| unknown("pin", number))
        };
        match self.pins.as_slice() {
            [] => Ok(connector.pins.iter().collect()),
            some => some.iter().map(find).collect(),
        }
    }

    /// Chance that a pin carries what the diagram gives to another, with the color that was seen on it.
    fn chance(&self, pin: &Pin, carries: &Pin, count: usize) -> f64 {
        let others = f64::from(u32::try_from(count.max(2) - 1).unwrap_or(1));
        let wrong = self.diagram_error.clamp(1e-4, others / (others + 1.0));
        let diagram = if pin.number == carries.number { 1.0 - wrong } else { wrong / others };
        let seen = self.colors_seen.get(&pin.number);
        let off = self.color_error.clamp(1e-4, 0.9);
        match seen {
            Some(seen) if *seen == carries.color => diagram * (1.0 - off),
            Some(_) => diagram * off / others,
            None => diagram,
        }
    }
}
