//! Labels that a drawing has room for.

use crate::check::problem::{Problem, ProblemCode};
use crate::file::label::{LABEL_LINE, LABEL_LINES, fits};
use crate::file::layout::Circuit;
use crate::file::text::Text;

pub(super) fn check(circuit: &Circuit, problems: &mut Vec<Problem>) {
    let parts = circuit.components.iter().map(|part| ("components", &part.id, &part.label));
    let points = circuit.points.iter().map(|point| ("points", &point.id, &point.label));
    let modules = circuit.modules.iter().map(|module| ("modules", &module.id, &module.label));
    for (section, id, label) in parts.chain(points).chain(modules) {
        let Some(Text { en, es }) = label else { continue };
        for text in [en, es].into_iter().filter(|text| !fits(text)) {
            let problem = format!("label {text:?} has more than {LABEL_LINES} lines of {LABEL_LINE} letters");
            let remedy = "Write one or two short words; longer ones may be cut with a period (Temp. switch)";
            problems.push(Problem::new(ProblemCode::TooLarge, &format!("{section}/{id}"), problem, remedy));
        }
    }
}
