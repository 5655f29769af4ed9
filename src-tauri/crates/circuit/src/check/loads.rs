//! Substitute loads: what is put in must never draw more than the maker allows there.

use std::collections::BTreeSet;

use crate::check::names::Names;
use crate::check::problem::{Problem, ProblemCode};
use crate::file::component::ComponentKind;
use crate::file::layout::{Circuit, SubstituteLoad};

/// Highest volts a running vehicle feeds (published charging windows end at 14.7 to 15 V).
const HIGHEST_VOLTS: f64 = 15.0;
/// A load may be this much heavier than the part it stands for: resistors have a tolerance too.
const SLACK: f64 = 0.9;
/// Regulated supplies below this are references for sensors, never to be loaded.
const REFERENCE_VOLTS: f64 = 8.0;

pub(super) fn check(circuit: &Circuit, names: &Names<'_>, problems: &mut Vec<Problem>) {
    let closed = never_loaded(circuit);
    for load in &circuit.loads {
        let place = format!("loads/{}", load.id);
        names.point(&place, &load.from, problems);
        names.point(&place, &load.to, problems);
        names.part(&place, &load.replaces, problems);
        let normal = names.parts.get(load.replaces.as_str()).and_then(|part| part.kind.load_ohms());
        let numbers = [Some(load.ohms), load.cold_ohms, load.maker_limit_amps];
        if numbers.iter().flatten().any(|number| *number <= 0.0 || !number.is_finite()) {
            let remedy = "Write ohms and amperes above zero";
            problems.push(Problem::new(ProblemCode::Number, &place, "a number is out of range", remedy));
        }
        let mut refuse = |problem: String, remedy: &str| {
            problems.push(Problem::new(ProblemCode::Unsafe, &place, problem, remedy));
        };
        if let Some(end) = [&load.from, &load.to].into_iter().find(|end| closed.contains(end.as_str())) {
            let remedy =
                "Data lines, 5 V references and air-bag circuits are never loaded: take this load out";
            refuse(format!("point {end:?} must not be loaded"), remedy);
        }
        if !is_gentle(load, normal) {
            let remedy = "Take a spare of the part or a resistor of its value, or write the maker's limit (maker_limit_amps)";
            refuse(format!("it could draw more than {:?} does", load.replaces), remedy);
        }
    }
}

/// Below the maker's limit, hot and cold; while that is unknown not above the part it stands for.
fn is_gentle(load: &SubstituteLoad, normal: Option<f64>) -> bool {
    let least = load.cold_ohms.unwrap_or(load.ohms).min(load.ohms);
    match (load.maker_limit_amps, normal) {
        (Some(limit), _) => HIGHEST_VOLTS / least <= limit,
        (None, Some(normal)) => least >= SLACK * normal,
        (None, None) => false,
    }
}

/// Points that are marked, and those that conductors join to them or to a reference.
fn never_loaded(circuit: &Circuit) -> BTreeSet<&str> {
    let marked = circuit.points.iter().filter(|point| point.never_load).map(|point| point.id.as_str());
    let mut closed: BTreeSet<&str> = marked.collect();
    for part in &circuit.components {
        if let ComponentKind::RegulatedSupply { output, volts, .. } = &part.kind
            && *volts < REFERENCE_VOLTS
        {
            closed.insert(output);
        }
    }
    loop {
        let before = closed.len();
        for part in &circuit.components {
            let conducts = matches!(part.kind, ComponentKind::Wire { .. } | ComponentKind::Connection { .. });
            if let (true, [a, b]) = (conducts, part.kind.points().as_slice())
                && (closed.contains(a) || closed.contains(b))
            {
                closed.extend([*a, *b]);
            }
        }
        if closed.len() == before {
            return closed;
        }
    }
}
