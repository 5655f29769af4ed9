//! From places in the circuit that was made back to the fields of the entry: what fails is named where it was typed.

use crate::check::problem::Problem;
use crate::entered::making::Making;
use crate::entered::names::WORKS;
use crate::entered::parts::entered_as;
use crate::file::layout::Circuit;
use crate::file::procedure::Behavior;

/// Names the field of the entry instead of the place in the circuit made from it.
pub(super) fn in_entry(mut problem: Problem, making: &Making<'_>, circuit: &Circuit) -> Problem {
    if problem.place == format!("tests/{WORKS}") {
        problem.place = "works".to_owned();
        problem.problem = "with everything asked for it doesn't work, although nothing is broken".to_owned();
        problem.remedy = "Follow its feed and its ground in the diagram again".to_owned();
        return problem;
    }
    let mut steps = problem.place.split('/');
    let field = match (steps.next(), steps.next()) {
        (Some("components"), Some(id)) => of_part(making, id),
        (Some("points"), Some(id)) => of_point(making, id),
        (Some("tests"), Some(id)) => of_test(making, circuit, id),
        (Some("modules"), Some(id)) => of_module(making, id),
        (Some("components"), None) => Some("parts".to_owned()),
        (Some("tests" | "variables" | "points"), None) => Some("parts".to_owned()),
        (Some("connectors"), Some(id)) => id
            .strip_prefix("connector_")
            .and_then(|number| number.parse::<usize>().ok())
            .map(|number| format!("connectors/{}", number.saturating_sub(1))),
        _ => None,
    };
    problem.place = field.unwrap_or(problem.place);
    problem
}

fn of_part(making: &Making<'_>, id: &str) -> Option<String> {
    entered_as(making, id).map(|i| format!("parts/{i}")).or_else(|| of_module(making, id))
}

/// A point is where a part was said to be.
fn of_point(making: &Making<'_>, id: &str) -> Option<String> {
    for (i, part) in making.entered.parts.iter().enumerate() {
        let field = match part.points().iter().position(|point| making.ids.point(point) == id) {
            None => continue,
            Some(0) => "from",
            Some(1) => "to",
            Some(_) => return Some(format!("parts/{i}")),
        };
        return Some(format!("parts/{i}/{field}"));
    }
    of_module(making, id)
}

/// A test is about the points its leads are at, or the part its question is about.
fn of_test(making: &Making<'_>, circuit: &Circuit, id: &str) -> Option<String> {
    let test = circuit.tests.iter().find(|test| test.id == id)?;
    let part = test.question.as_ref().and_then(|question| match &question.behavior {
        Behavior::CoilPullsIn { coil } => Some(coil.clone()),
        Behavior::PartWorks { component, .. }
        | Behavior::CarriesMoreThan { component, .. }
        | Behavior::ConditionsMet { component } => Some(component.clone()),
        Behavior::DamageSeen { components } => components.first().cloned(),
        Behavior::ModuleSees { .. } | Behavior::AlternatingSeen { .. } => None,
    });
    let red = test.red.as_deref().and_then(|point| of_point(making, point));
    let sensor = id.strip_prefix("scan_").and_then(|id| entered_as(making, id)).map(|i| format!("parts/{i}"));
    red.or(sensor).or_else(|| part.and_then(|id| of_part(making, &id))).or_else(|| of_module(making, id))
}

/// Ids inside a module begin with its own; the longest that fits is meant.
fn of_module(making: &Making<'_>, id: &str) -> Option<String> {
    let own = |id_of_module: &str| {
        let rest = id.strip_prefix(id_of_module);
        rest.is_some_and(|rest| rest.is_empty() || rest.starts_with('_'))
            || id.contains(&format!("_{id_of_module}_"))
    };
    let fitting = making.modules.iter().filter(|module| own(&module.id));
    fitting.max_by_key(|module| module.id.len()).map(|module| module.place.clone())
}
