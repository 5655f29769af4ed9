//! What should work and doesn't: a load, a sensor's reading, a module on the bus.

use crate::check::problem::{Problem, ProblemCode};
use crate::entered::bus;
use crate::entered::entry::{EnteredKind, EnteredPart, WorksWhile};
use crate::entered::making::Making;
use crate::entered::module::awake;
use crate::entered::module_entry::AskedBy;
use crate::entered::modules::{Built, Input};
use crate::entered::parts::joined;
use crate::entered::phrases::text;
use crate::file::component::Need;
use crate::file::layout::Circuit;
use crate::file::observation::State;
use crate::file::procedure::Behavior;
use crate::file::text::Text;
use crate::solve::solution::{Level, Solution, solve};

/// It works from about two thirds of the feed (judgment).
const WORKS_AT_VOLTS: f64 = 8.0;
/// A reading is right within so much of what the sensor should show, as a share and at least in volts (judgment).
const RIGHT_WITHIN: (f64, f64) = (0.15, 0.25);

/// What sensors with three wires are fed with.
const SENSOR_VOLTS: f64 = 5.0;

/// How it is seen that it works.
pub(super) enum Works {
    /// A load has its volts.
    Part { component: String, ends: [String; 2], at_least_volts: f64 },
    /// A module sees something.
    Seen { needs: Vec<Need>, name: Text },
}

impl Making<'_> {
    /// Everything asked for.
    pub(super) fn asked(&self) -> State {
        let key = match self.entered.works_while {
            WorksWhile::KeyOn => "on",
            WorksWhile::Crank => "crank",
        };
        [("key", key), ("request", "on")].map(|(name, value)| (name.to_owned(), value.to_owned())).into()
    }
}

impl Works {
    pub(super) fn of(making: &Making<'_>, circuit: &Circuit) -> Result<Self, Problem> {
        let works = making.entered.works.trim();
        let part = making.entered.parts.iter().find(|part| part.name.trim() == works);
        let healthy = solve(circuit, &making.asked(), &[], None).ok();
        match part {
            Some(part) if part.kind.is_sensor() => sensor(making, circuit, part, healthy.as_ref()),
            Some(part) => Ok(load(making, circuit, part, healthy.as_ref())),
            None => module(making),
        }
    }

    pub(super) fn behavior(&self) -> Behavior {
        match self {
            Self::Part { component, at_least_volts, .. } => {
                Behavior::PartWorks { component: component.clone(), at_least_volts: *at_least_volts }
            }
            Self::Seen { needs, .. } => Behavior::ModuleSees { needs: needs.clone() },
        }
    }

    /// Is this part what should work?
    pub(super) fn is_about(&self, id: &str) -> bool {
        matches!(self, Self::Part { component, .. } if component == id)
    }

    /// Does it work in this solution?
    pub(super) fn holds(&self, solution: &Solution) -> bool {
        match self {
            Self::Part { ends: [from, to], at_least_volts, .. } => {
                between(solution, from, to).is_some_and(|volts| volts.abs() >= *at_least_volts)
            }
            Self::Seen { needs, .. } => needs.iter().all(|need| {
                between(solution, &need.red, &need.black).is_some_and(|volts| {
                    need.at_least.is_none_or(|least| volts >= least)
                        && need.at_most.is_none_or(|most| volts <= most)
                })
            }),
        }
    }
}

fn between(solution: &Solution, red: &str, black: &str) -> Option<f64> {
    match (solution.points.get(red)?, solution.points.get(black)?) {
        (Level::Volts(red), Level::Volts(black)) => Some(red - black),
        _ => None,
    }
}

fn load(making: &Making<'_>, circuit: &Circuit, part: &EnteredPart, healthy: Option<&Solution>) -> Works {
    let ends = [making.ids.point(&part.from), making.ids.point(&part.to)];
    let [from, to] = &ends;
    let across = healthy.and_then(|solution| between(solution, from, to)).map_or(0.0, f64::abs);
    let duty = circuit.components.iter().find_map(|part| part.kind.duty());
    // Behind an output that pulses there are its average volts.
    let at_least_volts = match duty {
        Some(duty) if across < WORKS_AT_VOLTS => hundredth(WORKS_AT_VOLTS * duty),
        _ => WORKS_AT_VOLTS,
    };
    Works::Part { component: making.ids.part(&part.name), ends, at_least_volts }
}

fn hundredth(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

/// The input of a module that a sensor's wire leads to.
pub(super) fn input_of<'m, 'e>(
    making: &'m Making<'e>,
    circuit: &Circuit,
    part: &EnteredPart,
) -> Option<(&'m Built<'e>, &'m Input<'e>)> {
    let (ends, wanted) = match &part.kind {
        EnteredKind::Sensor { signal, .. } => (vec![making.ids.point(signal)], AskedBy::Sensor),
        EnteredKind::Thermistor { .. } => {
            (vec![making.ids.point(&part.from), making.ids.point(&part.to)], AskedBy::Thermistor)
        }
        _ => return None,
    };
    let reached = joined(ends, &circuit.components);
    let all = making.modules.iter().flat_map(|module| module.inputs.iter().map(move |input| (module, input)));
    let mut fitting = all.filter(|(_, input)| input.asked_by == wanted);
    fitting.find(|(_, input)| reached.contains(&making.ids.point(input.pin.point)))
}

/// What the module has to see of a sensor for its reading to be right.
pub(super) fn right(
    module: &Built<'_>,
    input: &Input<'_>,
    part: &EnteredPart,
    healthy: &Solution,
) -> Option<Vec<Need>> {
    let (red, black) = (module.inside(&input.pin), module.inside(&module.ground));
    // What it should be, not what it is as entered: a sensor whose ground leads nowhere is refused so.
    let volts = match part.kind {
        EnteredKind::Sensor { percent, .. } => SENSOR_VOLTS * percent / 100.0,
        _ => between(healthy, &red, &black)?,
    };
    let (share, least) = RIGHT_WITHIN;
    let within = (share * volts).max(least);
    let (at_least, at_most) = (Some(hundredth(volts - within)), Some(hundredth(volts + within)));
    Some(vec![awake(module), Need { red, black, at_least, at_most }])
}

/// How the question about a sensor's reading is put.
pub(super) fn reading_of(part: &EnteredPart) -> Text {
    let name = part.name.trim();
    text(
        format!("Scan tool: is the reading of {name} right?"),
        format!("Escáner: ¿es correcta la lectura de {name}?"),
    )
}

fn sensor(
    making: &Making<'_>,
    circuit: &Circuit,
    part: &EnteredPart,
    healthy: Option<&Solution>,
) -> Result<Works, Problem> {
    let found = input_of(making, circuit, part);
    let needs = found.zip(healthy).and_then(|((module, input), healthy)| right(module, input, part, healthy));
    needs.map(|needs| Works::Seen { needs, name: reading_of(part) }).ok_or_else(|| {
        let problem = "no module has an input for a sensor at the end of its signal wire";
        let remedy = "Give the module that reads it an input of that sort, at the point where the wire ends";
        Problem::new(ProblemCode::NotListed, "works", problem, remedy)
    })
}

fn module(making: &Making<'_>) -> Result<Works, Problem> {
    let refused = || {
        let remedy = "Name the load that should work, a sensor, or a module that has CAN pins";
        Problem::new(ProblemCode::NotListed, "works", "no such load, sensor or module on a bus", remedy)
    };
    let works = making.entered.works.trim();
    let talker = making.talker.and_then(|i| making.modules.get(i)).filter(|module| module.name == works);
    let talker = talker.ok_or_else(refused)?;
    let others = making.modules.iter().filter(|module| module.id != talker.id);
    let needs = others.into_iter().find_map(|listener| bus::heard(talker, listener)).ok_or_else(refused)?;
    let name =
        text(format!("Scan tool: does {works} communicate?"), format!("Escáner: ¿se comunica {works}?"));
    Ok(Works::Seen { needs, name })
}

impl EnteredKind {
    /// Is it read by a module?
    pub(super) const fn is_sensor(&self) -> bool {
        matches!(self, Self::Sensor { .. } | Self::Thermistor { .. })
    }
}
