//! What misses the goals: no overlap, no crossing, no letter under 15 px, no drawing over 420 px. `figures.csv` holds every miss
//! exactly, so that nothing gets worse unseen and what gets better is written down.

use std::fmt::Write;

use circuit::library;
use drawing::{Language, Plan, UPRIGHT};

use crate::judge::{crossings, overlaps, smallest};
use crate::search::{drawn, moments, three};

const HELD: &str = include_str!("figures.csv");
const HEAD: &str = "circuit,moment,language,height,overlaps,crossings,smallest";

/// Beginning, middle and end of a search in every circuit of the library, in both languages.
#[test]
fn what_misses_the_goals_is_as_held() {
    let width = |text: &str, size: f64| drawing::text_width(text, size);
    let mut found = format!("{HEAD}\n");
    let mut many = 0;
    let mut details = String::new();
    for circuit in library::all().unwrap() {
        let moments = moments(&circuit);
        let plan = Plan::of(&circuit);
        for (moment, name) in three(&moments).into_iter().zip(["beginning", "middle", "end"]) {
            for (language, code) in [(Language::English, "en"), (Language::Spanish, "es")] {
                let picture = drawn(&plan, &circuit, moment, language, UPRIGHT);
                many += 1;
                let (overlaps, crossings) = (overlaps(&picture, &width), crossings(&picture));
                let small = smallest(&picture);
                if !overlaps.is_empty() || crossings > 0 || small < 15.0 || picture.height > 420.0 {
                    let _ = writeln!(
                        found,
                        "{},{name},{code},{},{},{crossings},{small}",
                        circuit.id,
                        picture.height,
                        overlaps.len()
                    );
                    let _ = writeln!(details, "{} {name} {code}: {}", circuit.id, overlaps.join("; "));
                }
            }
        }
    }
    assert_eq!(many, library::files().len() * 6);
    assert!(found == HELD, "write this into figures.csv:\n{found}\n{details}");
}
