use super::both;
use crate::view::*;
use ::circuit::{Circuit, Component, ComponentKind, Diagnosis, Level, Solution, State, Test, UNKNOWN};
use ::job::event::MeterChosen;
use ::job::measured::in_base_unit;
use ::job::{Job, Reasoning};

/// A meter's profile.
pub(crate) fn meter(id: &str, chosen: &MeterChosen) -> MeterView {
    MeterView {
        id: id.to_owned(),
        name: chosen.name.clone(),
        volts_input_ohms: chosen.volts_input_ohms.clone(),
        low_impedance_ohms: chosen.low_impedance_ohms.clone(),
        accuracy_percent: chosen.accuracy_percent.clone(),
        accuracy_counts: chosen.accuracy_counts,
    }
}

/// The circuit, drawn, with what was measured on it.
pub(crate) fn circuit_view(job: &Job, reasoning: &Reasoning) -> CircuitView {
    let (state, load) = shown_state(job, &reasoning.circuit);
    drawn_circuit(job, &reasoning.circuit, Some(&reasoning.diagnosis), &state, load.as_deref())
}

/// A circuit on its own, with a healthy one's volts in a state.
pub(crate) fn bare_circuit(circuit: &Circuit, state: &State) -> CircuitView {
    drawn_circuit(&Job::default(), circuit, None, state, None)
}

fn drawn_circuit(
    job: &Job,
    circuit: &Circuit,
    diagnosis: Option<&Diagnosis>,
    state: &State,
    load: Option<&str>,
) -> CircuitView {
    // A state without a solution (a chattering relay, say), or one that nobody knows, has no volts to draw; everything else is
    // still shown.
    let healthy = ::circuit::solve(circuit, state, &[], load).ok();
    let edge = |side: fn(&::circuit::Point) -> f64| circuit.points.iter().map(side).fold(0.0, f64::max) + 1.0;
    CircuitView {
        id: circuit.id.clone(),
        title: both(&circuit.title),
        width: edge(|p| p.x),
        height: edge(|p| p.y),
        points: circuit.points.iter().map(|p| point(job, circuit, state, healthy.as_ref(), p)).collect(),
        parts: circuit
            .components
            .iter()
            .filter(|c| is_there(c, state))
            .map(|c| part(circuit, diagnosis, c))
            .collect(),
        connectors: circuit.connectors.iter().map(|c| super::connector(job, circuit, diagnosis, c)).collect(),
        state_variables: circuit.variables.iter().map(variable).collect(),
        loads: circuit.loads.iter().map(|l| ChoiceView { id: l.id.clone(), name: both(&l.name) }).collect(),
        tests: circuit.tests.iter().map(|t| test(diagnosis, t)).collect(),
    }
}

/// State and load of the newest reading, the usual ones before any.
fn shown_state(job: &Job, circuit: &Circuit) -> (State, Option<String>) {
    match job.valid_readings().last() {
        Some(last) => {
            let load = Some(last.reading.load.clone()).filter(|load| !load.is_empty());
            (last.reading.state.clone(), load)
        }
        None => (circuit.variables.iter().map(|v| (v.id.clone(), v.default.clone())).collect(), None),
    }
}

fn point(
    job: &Job,
    circuit: &Circuit,
    state: &State,
    healthy: Option<&Solution>,
    point: &::circuit::Point,
) -> PointView {
    let expected = healthy.and_then(|solution| match solution.points.get(&point.id) {
        Some(Level::Volts(volts)) => Some(*volts),
        _ => None,
    });
    let measured = job.valid_readings().filter(|r| {
        let kept = &r.reading;
        !kept.value.is_empty()
            && kept.red == point.id
            && kept.black == circuit.reference
            && kept.state == *state
    });
    let measured = measured.filter(|r| r.reading.mode.is_volts()).last();
    PointView {
        id: point.id.clone(),
        name: both(&point.name),
        x: point.x,
        y: point.y,
        expected_volts: expected,
        measured_volts: measured.and_then(|r| in_base_unit(&r.reading.value, r.reading.unit)),
        reachable: point.reachable,
    }
}

/// A spare relay or a bridge is drawn only while it is in place.
fn is_there(component: &Component, state: &State) -> bool {
    component
        .present_when
        .iter()
        .all(|(variable, values)| state.get(variable).is_none_or(|v| v == UNKNOWN || values.contains(v)))
}

fn part(circuit: &Circuit, diagnosis: Option<&Diagnosis>, component: &Component) -> PartView {
    let (kind, from, to) = drawn(&component.kind);
    let causes = diagnosis.map_or(&[][..], |diagnosis| &diagnosis.causes);
    let causes = causes.iter().filter(|c| c.component == component.id);
    PartView {
        id: component.id.clone(),
        name: both(&component.name),
        kind: kind.to_owned(),
        from: from.to_owned(),
        to: to.to_owned(),
        probability: causes.map(|c| c.probability).sum(),
        module: circuit.modules.iter().any(|m| m.components.contains(&component.id)),
    }
}

/// Kind and ends for the drawing.
fn drawn(kind: &ComponentKind) -> (&'static str, &str, &str) {
    match kind {
        ComponentKind::Battery { positive, negative, .. } => ("battery", negative, positive),
        ComponentKind::Fuse { from, to, .. } => ("fuse", from, to),
        ComponentKind::Wire { from, to, .. } => ("wire", from, to),
        ComponentKind::Connection { from, to, .. } => ("connection", from, to),
        ComponentKind::Switch { from, to, .. } => ("switch", from, to),
        ComponentKind::Coil { from, to, .. } => ("relay_coil", from, to),
        ComponentKind::Contact { from, to, .. } => ("relay_contact", from, to),
        ComponentKind::HighSideDriver { supply, output, .. } => ("driver", supply, output),
        ComponentKind::LowSideDriver { output, ground, .. } => ("driver", output, ground),
        ComponentKind::Lamp { from, to, .. } => ("lamp", from, to),
        ComponentKind::Motor { from, to, .. } => ("motor", from, to),
        ComponentKind::Resistor { from, to, .. } | ComponentKind::Thermistor { from, to, .. } => {
            ("resistor", from, to)
        }
        ComponentKind::PickUp { from, to, .. } => ("pick_up", from, to),
        ComponentKind::Diode { from, to, .. } => ("diode", from, to),
        ComponentKind::RegulatedSupply { output, ground, .. } => ("module", ground, output),
        ComponentKind::CurrentDraw { from, to, .. } => ("module", from, to),
        ComponentKind::SupplyLoad { from, to, .. } => ("module", from, to),
    }
}

fn variable(variable: &::circuit::Variable) -> StateVariableView {
    let position = |v: &::circuit::VariableValue| ChoiceView { id: v.id.clone(), name: both(&v.name) };
    StateVariableView {
        id: variable.id.clone(),
        name: both(&variable.name),
        positions: variable.values.iter().map(position).collect(),
        usual: variable.default.clone(),
    }
}

fn test(diagnosis: Option<&Diagnosis>, test: &Test) -> TestView {
    let offered = diagnosis.and_then(|diagnosis| diagnosis.next.iter().find(|next| next.test == test.id));
    TestView {
        id: test.id.clone(),
        title: both(&test.name),
        mode: test.mode.into(),
        red: test.red.clone().unwrap_or_default(),
        black: test.black.clone().unwrap_or_default(),
        state: test.state.clone(),
        load: test.load.clone().unwrap_or_default(),
        minutes: test.minutes,
        cautions: ::job::cautions::of_test(&test.cautions, &test.state, test.load.is_some()),
        compares: super::code(&test.compares),
        condition: test.condition.map(Into::into),
        expected: offered.and_then(|next| next.healthy),
    }
}
