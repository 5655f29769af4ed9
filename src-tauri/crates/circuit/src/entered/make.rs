//! From an entry to the whole circuit.

use std::collections::BTreeSet;

use crate::check::healthy::check_healthy;
use crate::check::limits;
use crate::check::problem::Problem;
use crate::entered::entry::{Entered, EnteredConnector, EnteredKind, EnteredPin, WorksWhile};
use crate::entered::evidence::{self, Suspect};
use crate::entered::making::Making;
use crate::entered::modules::{self, Built};
use crate::entered::names::{Ids, WORKS};
use crate::entered::phrases::same;
use crate::entered::works::Works;
use crate::entered::{bus, draw, fields, module, parts, places, procedures, relevant, variables};
use crate::file::layout::{Circuit, Complaint, Connector, Pin, Point};
use crate::routine::complete;

impl Entered {
    /// Reads an entry from JSON.
    ///
    /// # Errors
    /// Too large, or not an entry: one problem with its line.
    pub fn from_json(text: &str) -> Result<Self, Vec<Problem>> {
        limits::read(text).map_err(|problem| vec![problem])
    }

    /// The whole circuit.
    ///
    /// # Errors
    /// Everything that is wrong, each with the field it is in (`parts/3/kind/length_m`).
    pub fn into_circuit(self) -> Result<Circuit, Vec<Problem>> {
        let modules = modules::all(&self);
        let mut problems = fields::check(&self, &modules);
        if problems.is_empty() {
            problems = bus::check(&self, &modules);
        }
        if !problems.is_empty() {
            return Err(problems);
        }
        circuit(&self, &modules)
    }

    /// Does anything happen while cranking?
    pub(super) fn cranks(&self) -> bool {
        self.works_while == WorksWhile::Crank || self.parts.iter().any(|part| part.kind.cranks())
    }
}

fn circuit(entered: &Entered, modules: &[Built<'_>]) -> Result<Circuit, Vec<Problem>> {
    let ids = Ids::of(entered);
    let making = Making { entered, ids: &ids, modules, talker: bus::talker(entered, modules) };
    let battery = entered.parts.iter().find(|part| matches!(part.kind, EnteredKind::Battery {}));
    let (positive, reference) =
        battery.map(|part| (ids.point(&part.from), ids.point(&part.to))).unwrap_or_default();
    let mut components = parts::components(&making);
    let mut points = points(entered, &ids);
    module::add(&making, &mut components, &mut points);
    parts::set_faults(&making, &mut components, &reference);
    draw::place(&mut points, &components, &positive, &reference);
    let mut circuit = Circuit {
        format: 1,
        id: "own".to_owned(),
        version: 1,
        title: same(&entered.title),
        about: same(&entered.source),
        complaint: Complaint { name: same(&entered.complaint), test: WORKS.to_owned(), answer: false },
        everyday: None,
        reference,
        points,
        connectors: connectors(entered, &ids),
        components,
        variables: variables::all(&making),
        loads: Vec::new(),
        tests: Vec::new(),
        modules: Vec::new(),
        unmodeled_odds: 1.5,
        sources: vec![
            same(&entered.source).en,
            "faults, prior odds, minutes and limits are defaults (judgement)".to_owned(),
        ],
    };
    let in_fields = |problems: Vec<Problem>, circuit: &Circuit| -> Vec<Problem> {
        problems.into_iter().map(|problem| places::in_entry(problem, &making, circuit)).collect()
    };
    // What lies wrong between the points is said before what can't be computed because of it.
    let works = Works::of(&making, &circuit).map_err(|problem| {
        let between = |problem: &Problem| !problem.place.starts_with("complaint");
        let structure: Vec<Problem> = circuit.problems().into_iter().filter(between).collect();
        if structure.is_empty() { vec![problem] } else { in_fields(structure, &circuit) }
    })?;
    relevant::prune(&making, &works, &mut circuit);
    let suspects: Vec<Suspect<'_, '_>> = evidence::suspects(&making, &works, &circuit);
    circuit.modules = suspects.iter().map(|suspect| evidence::module(&making, suspect)).collect();
    procedures::add(&making, &works, &suspects, &mut circuit);
    let circuit = complete(circuit);
    let problems = circuit.problems();
    let problems = if problems.is_empty() { check_healthy(&circuit) } else { problems };
    if problems.is_empty() { Ok(circuit) } else { Err(in_fields(problems, &circuit)) }
}

fn points(entered: &Entered, ids: &Ids) -> Vec<Point> {
    let listed = |list: &[String], name: &str| list.iter().any(|point| point.trim() == name);
    let mut seen = BTreeSet::new();
    let names = entered.parts.iter().flat_map(|part| part.points());
    names
        .filter(|name| seen.insert(*name))
        .map(|name| Point {
            id: ids.point(name),
            name: same(name),
            label: None,
            x: 0.0,
            y: 0.0,
            reachable: !listed(&entered.out_of_reach, name),
            never_load: listed(&entered.never_load, name),
        })
        .collect()
}

fn connectors(entered: &Entered, ids: &Ids) -> Vec<Connector> {
    let connectors = entered.connectors.iter().enumerate();
    let pin = |(k, pin): (usize, &EnteredPin)| Pin {
        number: pin.number.trim().to_owned(),
        point: ids.point(&pin.point),
        x: f64::from(u32::try_from(k).unwrap_or(0)),
        y: 0.0,
        color: pin.color.clone(),
        function: same(&pin.point),
    };
    let make = |(i, connector): (usize, &EnteredConnector)| Connector {
        id: format!("connector_{}", i + 1),
        name: same(&connector.name),
        pins: connector.pins.iter().enumerate().map(pin).collect(),
    };
    connectors.map(make).collect()
}
