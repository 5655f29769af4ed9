//! Paths: points that float, loads without feed or return. Switches and contacts count as closed.

use std::collections::{BTreeMap, BTreeSet};

use crate::check::problem::{Problem, ProblemCode};
use crate::file::component::{Component, ComponentKind};
use crate::file::layout::Circuit;

pub(super) fn check(circuit: &Circuit, problems: &mut Vec<Problem>) {
    let all = Paths::of(circuit, |_| true);
    for point in &circuit.points {
        let place = format!("points/{}", point.id);
        if !circuit.components.iter().any(|part| part.kind.points().contains(&point.id.as_str())) {
            let remedy = "Connect a part to it, or leave the point out";
            problems.push(Problem::new(ProblemCode::Floating, &place, "no part touches it", remedy));
        } else if !all.joined(&point.id, &circuit.reference) && !is_taken_out(circuit, &point.id) {
            let problem = format!("it floats: no path leads to {:?}", circuit.reference);
            problems.push(Problem::new(
                ProblemCode::Floating,
                &place,
                problem,
                "Add the wire that is missing",
            ));
        }
    }
    feeds_and_returns(circuit, problems);
}

/// Everything at it is there in some states only, such as the pins of a relay on the bench.
fn is_taken_out(circuit: &Circuit, point: &str) -> bool {
    let mut here = circuit.components.iter().filter(|part| part.kind.points().contains(&point));
    here.any(|part| !part.present_when.is_empty())
}

fn feeds_and_returns(circuit: &Circuit, problems: &mut Vec<Problem>) {
    let sources: Vec<(&str, &str)> = circuit.components.iter().filter_map(source).collect();
    if sources.is_empty() {
        let remedy = "Add a battery";
        problems.push(Problem::new(ProblemCode::NoFeed, "components", "nothing feeds this circuit", remedy));
        return;
    }
    for (i, load) in circuit.components.iter().enumerate().filter(|(_, part)| part.kind.load_ohms().is_some())
    {
        let without = Paths::of(circuit, |k| k != i);
        let ends = load.kind.points();
        let dead = |end: Option<&&str>| {
            end.is_some_and(|end| {
                !sources.iter().any(|(plus, minus)| without.joined(end, plus) || without.joined(end, minus))
            })
        };
        let place = format!("components/{}", load.id);
        let open = Paths::of(circuit, |k| {
            k != i && circuit.components.get(k).is_some_and(|part| source(part).is_none())
        });
        let plus = sources.iter().any(|(plus, _)| ends.iter().any(|end| open.joined(end, plus)));
        let minus = sources.iter().any(|(_, minus)| ends.iter().any(|end| open.joined(end, minus)));
        // Parts are written from their positive side, so that a dead first end lacks its feed.
        if dead(ends.first()) || !plus {
            let remedy = "Join its first end to what feeds it";
            problems.push(Problem::new(ProblemCode::NoFeed, &place, "nothing feeds it", remedy));
        } else if dead(ends.get(1)) || !minus {
            let remedy = "Join its second end to its ground";
            problems.push(Problem::new(ProblemCode::NoReturn, &place, "its current has no way back", remedy));
        }
    }
}

fn source(part: &Component) -> Option<(&str, &str)> {
    match &part.kind {
        ComponentKind::Battery { positive, negative, .. } => Some((positive, negative)),
        ComponentKind::RegulatedSupply { output, ground, .. } => Some((output, ground)),
        _ => None,
    }
}

/// Points joined by parts.
struct Paths<'a> {
    set: BTreeMap<&'a str, usize>,
}

impl<'a> Paths<'a> {
    fn of(circuit: &'a Circuit, counts: impl Fn(usize) -> bool) -> Self {
        let mut set: BTreeMap<&str, usize> =
            circuit.points.iter().enumerate().map(|(i, point)| (point.id.as_str(), i)).collect();
        for (_, part) in circuit.components.iter().enumerate().filter(|(i, _)| counts(*i)) {
            let here: BTreeSet<usize> =
                part.kind.points().iter().filter_map(|point| set.get(point).copied()).collect();
            let Some(lowest) = here.first().copied() else { continue };
            set.values_mut().filter(|of| here.contains(of)).for_each(|of| *of = lowest);
        }
        Self { set }
    }

    fn joined(&self, a: &str, b: &str) -> bool {
        self.set.get(a).is_some_and(|of| self.set.get(b) == Some(of))
    }
}
