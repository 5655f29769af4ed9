//! What has to be in a picture, at every moment of a search in every circuit of the library.

use std::collections::BTreeSet;

use circuit::{Circuit, library};
use drawing::{Judged, Language, Look, Picture, Plan, UPRIGHT, WIDE};

use crate::search::{Moment, drawn, moments};

fn suspects(moment: &Moment) -> BTreeSet<String> {
    let mut shares = std::collections::BTreeMap::new();
    for cause in &moment.diagnosis.causes {
        *shares.entry(cause.component.clone()).or_insert(0.0) += cause.probability;
    }
    shares.into_iter().filter(|(_, share)| *share > 0.03).map(|(part, _)| part).collect()
}

/// Leads of the next test, bad readings, suspects over 3 %: in the drawing, not in the list beside it.
fn missing(circuit: &Circuit, moment: &Moment, picture: &Picture) -> Vec<String> {
    let mut missing = Vec::new();
    let test = circuit.tests.iter().find(|test| moment.next.as_deref() == Some(test.id.as_str()));
    for point in test.into_iter().flat_map(|test| [&test.red, &test.black]).flatten() {
        if !picture.eyes.iter().any(|eye| eye.point == *point)
            || !picture.plates.iter().any(|plate| plate.point == *point)
        {
            missing.push(format!("lead on {point}"));
        }
    }
    for listed in picture.listed.iter().filter(|listed| matches!(listed.judged, Judged::Low | Judged::High)) {
        missing.push(format!("reading {}", listed.observation));
    }
    let discs: BTreeSet<&String> = picture.discs.iter().flat_map(|disc| &disc.parts).collect();
    missing.extend(suspects(moment).into_iter().filter(|part| !discs.contains(part)));
    missing
}

#[test]
fn leads_bad_readings_and_suspects_are_in_the_picture() {
    let mut wrong = Vec::new();
    let mut many = 0;
    for circuit in library::all().unwrap() {
        let plan = Plan::of(&circuit);
        for (number, moment) in moments(&circuit).iter().enumerate() {
            for width in [UPRIGHT, WIDE] {
                let picture = drawn(&plan, &circuit, moment, Language::English, width);
                many += 1;
                assert!(picture.drawn, "{}", circuit.id);
                let missing = missing(&circuit, moment, &picture);
                if !missing.is_empty() {
                    wrong.push(format!("{} {number}: {}", circuit.id, missing.join(", ")));
                }
            }
        }
    }
    assert!(many > 200, "{many}");
    assert!(wrong.is_empty(), "{}", wrong.join("\n"));
}

/// Every reading is somewhere: in the drawing or in the list.
#[test]
fn no_reading_is_lost() {
    for circuit in library::all().unwrap() {
        let plan = Plan::of(&circuit);
        let moments = moments(&circuit);
        let moment = moments.last().unwrap();
        let picture = drawn(&plan, &circuit, moment, Language::English, UPRIGHT);
        let mut at: Vec<(Option<&String>, Option<&String>)> = Vec::new();
        for seen in moment.observations.iter().rev().filter(|seen| seen.red.is_some()) {
            // A later reading at the same points may stand in its place.
            if at.contains(&(seen.red.as_ref(), seen.black.as_ref())) {
                continue;
            }
            at.push((seen.red.as_ref(), seen.black.as_ref()));
            let there = |points: &[String]| {
                points
                    .iter()
                    .any(|point| Some(point) == seen.red.as_ref() || Some(point) == seen.black.as_ref())
            };
            let drawn = picture.beads.iter().any(|bead| there(&bead.points))
                || picture.listed.iter().any(|listed| there(&listed.points));
            let folded = picture.capsules.iter().any(|capsule| !capsule.parts.is_empty());
            assert!(drawn || folded, "{}: {}", circuit.id, seen.id);
        }
    }
}

/// The same input gives the same drawing, and the key position that is shown changes neither height nor folding.
#[test]
fn a_drawing_hangs_on_what_is_known_and_not_on_the_key() {
    for circuit in library::all().unwrap() {
        let (plan, again) = (Plan::of(&circuit), Plan::of(&circuit));
        let moments = moments(&circuit);
        for moment in &moments {
            let picture = drawn(&plan, &circuit, moment, Language::Spanish, UPRIGHT);
            assert_eq!(
                picture,
                drawn(&again, &circuit, moment, Language::Spanish, UPRIGHT),
                "{}",
                circuit.id
            );
            for variable in circuit.variables.iter().filter(|variable| variable.id == "key") {
                for value in &variable.values {
                    let mut turned = moment.state.clone();
                    turned.insert(variable.id.clone(), value.id.clone());
                    let moment = Moment { state: turned, ..moment.clone() };
                    let other = drawn(&plan, &circuit, &moment, Language::Spanish, UPRIGHT);
                    assert_eq!(
                        (picture.height, picture.folded),
                        (other.height, other.folded),
                        "{} {}",
                        circuit.id,
                        value.id
                    );
                }
            }
        }
    }
}

/// Lit: every cause of the part is ruled out, and somebody measured at one of its own points or asked about it.
#[test]
fn nothing_is_lit_because_its_neighbor_is_good() {
    let mut lit = 0;
    for circuit in library::all().unwrap() {
        let plan = Plan::of(&circuit);
        for moment in moments(&circuit) {
            let picture = drawn(&plan, &circuit, &moment, Language::English, UPRIGHT);
            let symbols = picture
                .symbols
                .iter()
                .filter(|symbol| symbol.look == Look::Proven)
                .map(|symbol| &symbol.part);
            for id in symbols {
                lit += 1;
                let part = circuit.components.iter().find(|part| part.id == *id).unwrap();
                let causes = moment.diagnosis.causes.iter().filter(|cause| cause.component == *id);
                assert!(
                    causes.clone().count() > 0 && causes.clone().all(|cause| cause.ruled_out.is_some()),
                    "{} {id}",
                    circuit.id
                );
                let own = moment.observations.iter().any(|seen| {
                    let asked = circuit.tests.iter().find(|test| Some(&test.id) == seen.test.as_ref());
                    let asked = asked
                        .and_then(|test| test.question.as_ref())
                        .is_some_and(|question| format!("{question:?}").contains(&format!("\"{id}\"")));
                    let on = |point: &Option<String>| {
                        point.as_deref().is_some_and(|point| part.kind.points().contains(&point))
                    };
                    asked || on(&seen.red) || on(&seen.black)
                });
                assert!(own, "{} {id}", circuit.id);
            }
        }
    }
    assert!(lit > 10, "{lit}");
}
