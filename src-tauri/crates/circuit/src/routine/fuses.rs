//! How a blown fuse is followed up. A fuse seldom dies by itself: what blew it is behind it, and stays there when the fuse
//! is blown and everything else looks dead.

use crate::check::healthy::healthy_shows;
use crate::file::component::{Component, ComponentKind};
use crate::file::fault::{Fault, FaultSpec};
use crate::file::layout::{Circuit, SubstituteLoad};
use crate::file::observation::{MeasureMode, State};
use crate::file::procedure::{Behavior, Limits, Question, Test};
use crate::predict::reading::Predicted;
use crate::routine::parts::{text, variable, when, with};
use crate::solve::solution::{Level, solve};

/// Severities at which a fault is tried.
const TRIED: [f64; 3] = [0.0, 0.25, 0.5];
/// Share of what a healthy circuit shows from its fuse to ground that still counts as healthy (judgment).
const STILL_HEALTHY: f64 = 0.5;
/// A healthy circuit that shows over-limit there shows at least this, ohm (judgment).
const OPEN_OHMS: f64 = 10_000.0;
/// What else feeds the circuit while the fuse is out must leave less than this there: a meter's own current makes no more
/// at a few ohm (common practice).
const DEAD_VOLTS: f64 = 1e-3;
/// A lamp in place of the fuse: watts, 12 V, its cold resistance a tenth (common practice). Its rush stays below what the
/// fuse would let through.
const LAMP_WATTS: [f64; 2] = [21.0, 5.0];
const VOLTS: f64 = 12.0;
const HIGHEST_VOLTS: f64 = 15.0;
/// A blown fuse is overlooked, or seen where there is none, so often (judgment).
const OVERLOOKED: f64 = 0.02;

pub(super) fn add(circuit: &mut Circuit) {
    for fuse in blowing(circuit) {
        if !circuit.variables.iter().any(|variable| variable.id == fuse.id) {
            follow_up(circuit, &fuse);
        }
    }
}

/// Fuses that some fault blows while the complaint shows.
fn blowing(circuit: &Circuit) -> Vec<Component> {
    let Some(state) = complaint_state(circuit) else { return Vec::new() };
    let mut blown: Vec<String> = Vec::new();
    for part in &circuit.components {
        for fault in part.faults.iter().flat_map(|spec| faults(part, spec)) {
            let solved = solve(circuit, &state, &[fault], None);
            let working = solved.map(|solution| solution.working).unwrap_or_default();
            blown.extend(working.into_iter().filter(|(_, whole)| !whole).map(|(id, _)| id));
        }
    }
    let is_fuse = |part: &&Component| matches!(part.kind, ComponentKind::Fuse { .. });
    circuit.components.iter().filter(is_fuse).filter(|part| blown.contains(&part.id)).cloned().collect()
}

fn complaint_state(circuit: &Circuit) -> Option<State> {
    complaint_test(circuit).map(|test| test.state.clone())
}

fn complaint_test(circuit: &Circuit) -> Option<&Test> {
    circuit.tests.iter().find(|test| test.id == circuit.complaint.test)
}

/// A fault at some of its severities; those without have one.
fn faults(part: &Component, spec: &FaultSpec) -> Vec<Fault> {
    let at =
        |severity: f64| Fault { component: part.id.clone(), mode: spec.mode, severity, at: spec.at.clone() };
    match spec.min.zip(spec.max) {
        Some((min, max)) => TRIED.iter().map(|share| at(min * (max / min).powf(*share))).collect(),
        None => vec![at(0.0)],
    }
}

fn follow_up(circuit: &mut Circuit, fuse: &Component) {
    let ComponentKind::Fuse { from, to, rating_amps, .. } = &fuse.kind else { return };
    let Some(asked) = complaint_test(circuit).cloned() else { return };
    circuit.variables.push(variable(
        &fuse.id,
        fuse.name.clone(),
        &[("fitted", "as found", "como estaba"), ("out", "out", "fuera"), ("new", "new", "nuevo")],
    ));
    for part in circuit.components.iter_mut().filter(|part| part.id == fuse.id) {
        part.present_when.extend(when(&fuse.id, &["fitted", "new"]));
        if let ComponentKind::Fuse { renewed_when, .. } = &mut part.kind {
            *renewed_when = when(&fuse.id, &["new"]);
        }
    }
    push(circuit, |circuit| to_ground(circuit, fuse, to));
    push(circuit, |_| Some(new_one(fuse, &asked)));
    if let Some(load) = lamp(fuse, from, to, *rating_amps) {
        let test = with_lamp(fuse, from, to, &asked, &load);
        circuit.loads.push(load);
        push(circuit, |_| Some(test));
    }
}

/// Adds a test, with its limits where it is a reading, unless a healthy circuit shows nothing definite at it.
fn push(circuit: &mut Circuit, test: impl FnOnce(&Circuit) -> Option<Test>) {
    let Some(test) = test(circuit) else { return };
    let (number, reads) = (circuit.tests.len(), test.question.is_none());
    circuit.tests.push(test);
    let shown = healthy_shows(circuit, number);
    let limits = match shown {
        _ if !reads => return,
        Some(Predicted::Value { value, .. }) => Some(value),
        Some(Predicted::OverLimit) => None,
        Some(Predicted::Anything) | None => {
            circuit.tests.pop();
            return;
        }
    };
    if let Some(test) = circuit.tests.last_mut() {
        test.limits = Some(limits_of(test.mode, limits));
    }
}

fn limits_of(mode: MeasureMode, healthy: Option<f64>) -> Limits {
    match (mode, healthy) {
        (MeasureMode::Ohms, healthy) => Limits {
            min: Some(healthy.map_or(OPEN_OHMS, |ohms| rounded(ohms * STILL_HEALTHY))),
            max: None,
            source: "half of what a healthy circuit shows (judgement)".to_owned(),
        },
        (_, healthy) => Limits {
            min: None,
            max: Some(rounded(healthy.map_or(0.0, |volts| volts + volts.abs() * 0.1) + 1.0)),
            source: "what a healthy circuit shows, a tenth and 1 V (judgement)".to_owned(),
        },
    }
}

/// To a hundredth: nobody reads more, and every file gives it back as it was written.
fn rounded(value: f64) -> f64 {
    (value * 100.0).round() / 100.0
}

/// Ohms from its load side to ground, the fuse out and the modules unplugged: what a module shows an ohmmeter says nothing.
fn to_ground(circuit: &Circuit, fuse: &Component, to: &str) -> Option<Test> {
    let (en, es) = (&fuse.name.en, &fuse.name.es);
    let name = text(format!("{en} out: its load side to ground"), format!("{es} fuera: lado carga a masa"));
    let state = with(&unplugged(circuit), &fuse.id, "out");
    let test = Test::blank(format!("{}_load_side", fuse.id), name, MeasureMode::Ohms, state, 3.0);
    let reachable = circuit.points.iter().any(|point| point.id == to && point.reachable);
    let volts = solve(circuit, &test.state, &[], None).ok()?.points.get(to).copied();
    let dead = match volts? {
        Level::Volts(volts) => volts.abs() < DEAD_VOLTS,
        Level::Floating => true,
    };
    (reachable && dead).then(|| Test {
        red: Some(to.to_owned()),
        black: Some(circuit.reference.clone()),
        ..test
    })
}

/// Every module as it is when its connector is looked at.
fn unplugged(circuit: &Circuit) -> State {
    let look = |id: &String| circuit.tests.iter().find(|test| test.id == *id);
    let states = circuit.modules.iter().filter_map(|module| look(&module.inspection));
    states.flat_map(|test| test.state.clone()).filter(|(variable, _)| variable != "key").collect()
}

/// A new one in its place, and what doesn't work asked for: does it blow?
fn new_one(fuse: &Component, asked: &Test) -> Test {
    let (en, es) = (&fuse.name.en, &fuse.name.es);
    let name = text(
        format!("{en} replaced by a new one of the same rating: does it blow?"),
        format!("{es} cambiado por uno nuevo igual: ¿se funde?"),
    );
    let state = with(&asked.state, &fuse.id, "new");
    let mut test = Test::blank(format!("{}_new", fuse.id), name, MeasureMode::YesNo, state, 4.0);
    // What the complaint is about may start.
    test.cautions.clone_from(&asked.cautions);
    let behavior = Behavior::DamageSeen { components: vec![fuse.id.clone()] };
    test.question = Some(Question { behavior, miss: OVERLOOKED, false_alarm: OVERLOOKED });
    test
}

fn lamp(fuse: &Component, from: &str, to: &str, rating_amps: f64) -> Option<SubstituteLoad> {
    let limit = 2.0 * rating_amps;
    let fits = |watts: &&f64| HIGHEST_VOLTS / (VOLTS * VOLTS / **watts / 10.0) <= limit;
    let watts = LAMP_WATTS.iter().find(fits)?;
    let ohms = rounded(VOLTS * VOLTS / watts);
    Some(SubstituteLoad {
        id: format!("{}_lamp", fuse.id),
        name: text(
            format!("{watts} W lamp in place of {}", fuse.name.en),
            format!("lámpara de {watts} W en lugar de {}", fuse.name.es),
        ),
        from: from.to_owned(),
        to: to.to_owned(),
        ohms,
        cold_ohms: Some(rounded(ohms / 10.0)),
        tolerance_percent: 15.0,
        replaces: fuse.id.clone(),
        maker_limit_amps: Some(limit),
    })
}

/// Volts across a lamp in its place: what is shorted behind it leaves all of them there.
fn with_lamp(fuse: &Component, from: &str, to: &str, asked: &Test, load: &SubstituteLoad) -> Test {
    let name =
        text(format!("Across the {}", load.name.en), format!("Entre los terminales de la {}", load.name.es));
    let state = with(&asked.state, &fuse.id, "out");
    let test = Test::blank(format!("{}_lamp_volts", fuse.id), name, MeasureMode::VoltsDc, state, 4.0);
    Test {
        red: Some(from.to_owned()),
        black: Some(to.to_owned()),
        load: Some(load.id.clone()),
        cautions: asked.cautions.clone(),
        ..test
    }
}
