//! Sizes beyond which a file is refused before anything is computed from it.

use serde::de::DeserializeOwned;

use crate::check::problem::{Problem, ProblemCode};
use crate::file::layout::Circuit;

/// Bytes of a circuit file.
pub const MAX_BYTES: usize = 1 << 20;
/// Objects and lists in each other.
pub const MAX_NESTING: usize = 24;
/// Points of a circuit.
pub const MAX_POINTS: usize = 300;
/// Parts of a circuit.
pub const MAX_PARTS: usize = 400;
/// Ways in which one part can fail.
pub const MAX_FAULTS_OF_A_PART: usize = 12;
/// Tests of a circuit.
pub const MAX_TESTS: usize = 240;
/// State variables.
pub const MAX_STATES: usize = 64;
/// Values of a state variable.
pub const MAX_VARIABLES: usize = 16;
/// Connectors, and pins of one of them.
pub const MAX_CONNECTORS: usize = 120;
/// Substitute loads, modules.
pub const MAX_LOADS: usize = 24;
/// Bytes of a short name.
pub const MAX_NAME: usize = 64;
/// Bytes of a phrase.
pub const MAX_PHRASE: usize = 600;

/// Reads JSON after its size and depth were looked at.
///
/// # Errors
/// Too large, nested too deeply, or not of this shape: one problem, with its line where there is one.
pub(crate) fn read<T: DeserializeOwned>(text: &str) -> Result<T, Problem> {
    of_text(text)?;
    serde_json::from_str(text).map_err(|error| {
        let remedy = "Correct the file at this line";
        let mut problem = Problem::new(ProblemCode::Unreadable, "file", error.to_string(), remedy);
        problem.line = Some(error.line());
        problem
    })
}

/// Size and depth of a text that isn't parsed yet.
fn of_text(text: &str) -> Result<(), Problem> {
    let refuse = |problem: String| Err(Problem::new(ProblemCode::TooLarge, "file", problem, TRIM));
    if text.len() > MAX_BYTES {
        return refuse(format!("{} bytes; at most {MAX_BYTES} are read", text.len()));
    }
    let (mut depth, mut deepest, mut quoted, mut escaped) = (0_usize, 0_usize, false, false);
    for byte in text.bytes() {
        match byte {
            _ if escaped => escaped = false,
            b'\\' if quoted => escaped = true,
            b'"' => quoted = !quoted,
            b'{' | b'[' if !quoted => {
                depth += 1;
                deepest = deepest.max(depth);
            }
            b'}' | b']' if !quoted => depth = depth.saturating_sub(1),
            _ => {}
        }
    }
    if deepest > MAX_NESTING {
        return refuse(format!("nested {deepest} deep; at most {MAX_NESTING} are read"));
    }
    Ok(())
}

const TRIM: &str = "Split it into circuits of one complaint each";

/// Counts and lengths of a parsed circuit.
pub(super) fn of_circuit(circuit: &Circuit, problems: &mut Vec<Problem>) {
    let mut count = |place: &str, many: usize, most: usize| {
        if many > most {
            let problem = format!("{many} entries; at most {most} are allowed");
            problems.push(Problem::new(ProblemCode::TooLarge, place, problem, TRIM));
        }
    };
    count("points", circuit.points.len(), MAX_POINTS);
    count("components", circuit.components.len(), MAX_PARTS);
    count("tests", circuit.tests.len(), MAX_TESTS);
    count("variables", circuit.variables.len(), MAX_STATES);
    count("connectors", circuit.connectors.len(), MAX_CONNECTORS);
    count("loads", circuit.loads.len(), MAX_LOADS);
    count("modules", circuit.modules.len(), MAX_LOADS);
    count("sources", circuit.sources.len(), MAX_VARIABLES);
    for part in &circuit.components {
        count(&format!("components/{}", part.id), part.faults.len(), MAX_FAULTS_OF_A_PART);
    }
    for variable in &circuit.variables {
        count(&format!("variables/{}", variable.id), variable.values.len(), MAX_VARIABLES);
    }
    for connector in &circuit.connectors {
        count(&format!("connectors/{}", connector.id), connector.pins.len(), MAX_CONNECTORS);
    }
    for test in &circuit.tests {
        count(&format!("tests/{}", test.id), test.requires.len() + test.cautions.len(), MAX_VARIABLES);
    }
    for (place, text) in phrases(circuit) {
        if text.is_empty() || text.len() > MAX_PHRASE {
            let problem = format!("a phrase of {} bytes; 1 to {MAX_PHRASE} are allowed", text.len());
            problems.push(Problem::new(
                ProblemCode::TooLarge,
                &place,
                problem,
                "Write it shorter, or write it at all",
            ));
        }
    }
}

fn phrases(circuit: &Circuit) -> impl Iterator<Item = (String, &str)> {
    let named = |section: &'static str, id: &str| format!("{section}/{id}");
    let points = circuit.points.iter().map(move |point| (named("points", &point.id), &point.name));
    let parts = circuit.components.iter().map(move |part| (named("components", &part.id), &part.name));
    let tests = circuit.tests.iter().map(move |test| (named("tests", &test.id), &test.name));
    let whole =
        [("title", &circuit.title), ("about", &circuit.about), ("complaint", &circuit.complaint.name)];
    let whole = whole.into_iter().map(|(place, text)| (place.to_owned(), text));
    let texts = whole.chain(points).chain(parts).chain(tests);
    let sources = circuit.sources.iter().map(|source| ("sources".to_owned(), source.as_str()));
    texts
        .flat_map(|(place, text)| [(place.clone(), text.en.as_str()), (place, text.es.as_str())])
        .chain(sources)
}
