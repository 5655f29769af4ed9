//! From an entry to the whole circuit.

use std::collections::BTreeSet;

use crate::check::healthy::check_healthy;
use crate::check::limits;
use crate::check::problem::Problem;
use crate::entered::entry::{ClosedBy, Entered, EnteredConnector, EnteredKind, EnteredPart, EnteredPin};
use crate::entered::names::{Ids, WORKS, coil_of, variable_of};
use crate::entered::phrases::{same, text, when};
use crate::entered::{draw, faults, fields, module, procedures};
use crate::file::component::{Component, ComponentKind, Conditions};
use crate::file::layout::{Circuit, Complaint, Connector, Pin, Point, Variable, VariableValue};
use crate::file::text::Text;
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
        let problems = fields::check(&self);
        if !problems.is_empty() {
            return Err(problems);
        }
        circuit(&self)
    }
}

fn circuit(entered: &Entered) -> Result<Circuit, Vec<Problem>> {
    let ids = Ids::of(entered);
    let mut components = components(entered, &ids);
    let battery = entered.parts.iter().find(|part| matches!(part.kind, EnteredKind::Battery {}));
    let (positive, reference) =
        battery.map(|part| (ids.point(&part.from), ids.point(&part.to))).unwrap_or_default();
    let mut points = points(entered, &ids);
    let mut modules = Vec::new();
    if let Some(made) = &entered.module {
        module::parts(made, &ids, &mut components, &mut points);
        modules.push(module::evidence(made));
    }
    draw::place(&mut points, &components, &positive, &reference);
    let mut circuit = Circuit {
        format: 1,
        id: "own".to_owned(),
        version: 1,
        title: same(&entered.title),
        about: same(&entered.source),
        complaint: Complaint { name: same(&entered.complaint), test: WORKS.to_owned(), answer: false },
        reference,
        points,
        connectors: connectors(entered, &ids),
        components,
        variables: variables(entered, &ids),
        loads: Vec::new(),
        tests: Vec::new(),
        modules,
        unmodeled_odds: 1.5,
        sources: vec![
            same(&entered.source).en,
            "faults, prior odds, minutes and limits are defaults (judgement)".to_owned(),
        ],
    };
    procedures::add(entered, &ids, &mut circuit);
    let circuit = complete(circuit);
    let problems = circuit.problems();
    let problems = if problems.is_empty() { check_healthy(&circuit) } else { problems };
    if problems.is_empty() {
        Ok(circuit)
    } else {
        Err(problems.into_iter().map(|p| in_entry(p, entered, &ids)).collect())
    }
}

/// Names the field of the entry instead of the place in the circuit made from it.
fn in_entry(mut problem: Problem, entered: &Entered, ids: &Ids) -> Problem {
    let mut steps = problem.place.split('/');
    if let (Some("components"), Some(id)) = (steps.next(), steps.next())
        && let Some(i) = entered.parts.iter().position(|part| ids.part(&part.name) == id)
    {
        problem.place = format!("parts/{i}");
    }
    if problem.place == format!("tests/{}", WORKS) {
        problem.place = "works".to_owned();
        problem.problem = "with everything asked for it doesn't work, although nothing is broken".to_owned();
        problem.remedy = "Follow its feed and its ground in the diagram again".to_owned();
    }
    problem
}

fn points(entered: &Entered, ids: &Ids) -> Vec<Point> {
    let listed = |list: &[String], name: &str| list.iter().any(|point| point.trim() == name);
    let mut seen = BTreeSet::new();
    let names = entered.parts.iter().flat_map(|part| [part.from.trim(), part.to.trim()]);
    names
        .filter(|name| seen.insert(*name))
        .map(|name| Point {
            id: ids.point(name),
            name: same(name),
            x: 0.0,
            y: 0.0,
            reachable: !listed(&entered.out_of_reach, name),
            never_load: listed(&entered.never_load, name),
        })
        .collect()
}

fn components(entered: &Entered, ids: &Ids) -> Vec<Component> {
    let make = |part: &EnteredPart| Component {
        id: ids.part(&part.name),
        name: same(&part.name),
        kind: kind(entered, part, ids),
        present_when: present_when(part, ids, entered),
        tolerance_percent: tolerance(&part.kind),
        faults: Vec::new(),
    };
    let mut made: Vec<Component> = entered.parts.iter().map(make).collect();
    let reference = entered.parts.iter().find(|part| matches!(part.kind, EnteredKind::Battery {}));
    let reference = reference.map(|part| ids.point(&part.to)).unwrap_or_default();
    let ground: Vec<String> = draw::grounds(&made, &reference).into_keys().map(str::to_owned).collect();
    for (part, from) in made.iter_mut().zip(&entered.parts) {
        let at_ground = part.kind.points().iter().any(|end| ground.iter().any(|point| point == end));
        part.faults = faults::of(&from.kind, at_ground);
    }
    made
}

/// How much healthy specimens differ, ± percent (judgment).
const fn tolerance(kind: &EnteredKind) -> f64 {
    match kind {
        EnteredKind::RelayCoil { .. } | EnteredKind::Load { .. } | EnteredKind::Thermistor { .. } => 10.0,
        EnteredKind::Lamp { .. } | EnteredKind::Motor { .. } => 15.0,
        EnteredKind::Resistor { .. } => 5.0,
        _ => 0.0,
    }
}

/// Relay parts come out with their relay, the battery with its clamp.
fn present_when(part: &EnteredPart, ids: &Ids, entered: &Entered) -> Conditions {
    match &part.kind {
        EnteredKind::RelayCoil { relay, .. } | EnteredKind::RelayContact { relay, .. } => {
            when(&variable_of(relay, ids, entered), &["fitted"])
        }
        EnteredKind::Battery {} => when("battery", &["connected"]),
        _ => Conditions::new(),
    }
}

fn kind(entered: &Entered, part: &EnteredPart, ids: &Ids) -> ComponentKind {
    let (from, to) = (ids.point(&part.from), ids.point(&part.to));
    match &part.kind {
        EnteredKind::Battery {} => ComponentKind::Battery {
            positive: from,
            negative: to,
            volts: 12.55,
            volts_spread: 0.15,
            internal_ohms: 0.01,
            volts_when: Vec::new(),
        },
        // 7.7 mohm at 10 A (published, seen), others in proportion.
        EnteredKind::Fuse { amps } => {
            let (ohms, renewed_when) = (0.077 / amps, Conditions::new());
            ComponentKind::Fuse { from, to, ohms, rating_amps: *amps, renewed_when }
        }
        EnteredKind::Wire { length_m, size, .. } => ComponentKind::Wire {
            from,
            to,
            length_m: *length_m,
            area_mm2: size.area_mm2(),
            temperature_c: 25.0,
        },
        EnteredKind::Connection {} => ComponentKind::Connection { from, to, ohms: 0.002 },
        EnteredKind::Switch { closed_by } => {
            let closed_when = match closed_by {
                ClosedBy::Key => when("key", &["on"]),
                ClosedBy::Request => when("request", &["on"]),
            };
            ComponentKind::Switch { from, to, closed_when, closed_ohms: 0.02 }
        }
        EnteredKind::RelayCoil { ohms, .. } => {
            let ohms = ohms.unwrap_or(85.0);
            ComponentKind::Coil { from, to, ohms, pull_in_volts: 7.5, drop_out_volts: 1.5 }
        }
        EnteredKind::RelayContact { relay, closed_at_rest } => {
            let coil = coil_of(relay, ids, entered);
            ComponentKind::Contact { from, to, coil, closed_at_rest: *closed_at_rest, ohms: 0.005 }
        }
        EnteredKind::Lamp { watts } => {
            let ohms = 144.0 / watts;
            ComponentKind::Lamp { from, to, ohms, cold_ohms: Some(ohms / 10.0) }
        }
        EnteredKind::Motor { amps } => {
            ComponentKind::Motor { from, to, ohms: 12.0 / amps, stalled_ohms: None }
        }
        EnteredKind::Load { ohms } | EnteredKind::Resistor { ohms } => {
            ComponentKind::Resistor { from, to, ohms: *ohms }
        }
        EnteredKind::Diode {} => {
            ComponentKind::Diode { from, to, drop_volts: 0.6, on_ohms: 0.05, off_ohms: 1e7 }
        }
        EnteredKind::Thermistor { ohms_25 } => ComponentKind::Thermistor {
            from,
            to,
            ohms_25: *ohms_25,
            beta_kelvin: 3500.0,
            temperature_c: 25.0,
        },
    }
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

fn variables(entered: &Entered, ids: &Ids) -> Vec<Variable> {
    let value = |id: &str, en: &str, es: &str| VariableValue { id: id.to_owned(), name: text(en, es) };
    let variable = |id: String, name: Text, values: Vec<VariableValue>| {
        let default = values.first().map(|value| value.id.clone()).unwrap_or_default();
        Variable { id, name, values, default }
    };
    let off_on = || vec![value("off", "off", "apagado"), value("on", "on", "encendido")];
    let mut all = vec![
        variable("key".to_owned(), text("Key", "Llave"), off_on()),
        variable("request".to_owned(), text("Function asked for", "Función pedida"), off_on()),
        variable(
            "battery".to_owned(),
            text("Battery", "Batería"),
            vec![
                value("connected", "connected", "conectada"),
                value("disconnected", "disconnected", "desconectada"),
            ],
        ),
    ];
    for part in &entered.parts {
        if let EnteredKind::RelayCoil { relay, .. } = &part.kind {
            let values = vec![value("fitted", "fitted", "puesto"), value("removed", "removed", "quitado")];
            all.push(variable(variable_of(relay, ids, entered), same(relay), values));
        }
    }
    if let Some(module) = &entered.module {
        let values = vec![
            value("plugged", "plugged in", "enchufado"),
            value("unplugged", "unplugged", "desenchufado"),
            value(
                "breakout",
                "joined through test leads that bypass the terminals",
                "unido con cables de prueba",
            ),
        ];
        all.push(variable("module".to_owned(), same(&module.name), values));
    }
    all
}
