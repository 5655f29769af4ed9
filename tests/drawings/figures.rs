//! Figures of all pictures.

use circuit::library;
use drawing::{Facts, Language, Plan, UPRIGHT};

use crate::judge::{crossings, on_wires, overlaps, smallest};
use crate::search::{moments, three};

#[test]
#[ignore = "prints"]
fn print() {
    let width = |text: &str, size: f64| drawing::text_width(text, size);
    let only = std::env::var("ONLY").unwrap_or_default();
    for circuit in library::all().unwrap().iter().filter(|circuit| only.is_empty() || only.split(',').any(|id| id == circuit.id)) {
        let moments = moments(circuit);
        let plan = Plan::of(circuit);
        for (place, moment) in three(&moments).into_iter().enumerate() {
            let facts = Facts { diagnosis: &moment.diagnosis, observations: &moment.observations, state: &moment.state, next: moment.next.as_deref() };
            for language in [Language::English, Language::Spanish] {
                let picture = plan.draw(circuit, &facts, language, UPRIGHT);
                println!("{:26} {place} {language:?} h {} fold {} overlaps {:?} cross {} onwire {} small {} listed {:?}", circuit.id, picture.height, picture.folded, overlaps(&picture, &width), crossings(&picture), on_wires(&picture, &width), smallest(&picture), picture.listed.iter().map(|l| format!("{}{} {:?}", l.points.join("-"), l.parts.join("+"), l.judged)).collect::<Vec<_>>());
            }
        }
    }
}
