//! The way of the current from the battery through the part that failed, in three to five stops: where it got lost.

mod way;

use super::headline::Status;
use super::known;
use crate::everyday::{self, Sort};
use crate::page::wording::Wording;
use circuit::Circuit;
use job::Job;
use job::event::Outcome;
use serde::Serialize;
use way::way_through;

/// Stops drawn, the bad one included.
const MOST: usize = 5;

/// The strip.
#[derive(Serialize)]
pub(crate) struct Strip {
    pub(crate) alt: String,
    pub(crate) stops: Vec<Stop>,
}

/// One stop, or the stretch between two of them that was bad.
#[derive(Clone, Serialize)]
pub(crate) struct Stop {
    /// Code of the icon; empty for a stretch.
    pub(crate) icon: &'static str,
    pub(crate) name: String,
    /// Good, bad, or nothing known.
    pub(crate) good: Option<bool>,
    pub(crate) words: String,
    /// It is the stretch between its neighbors.
    pub(crate) stretch: bool,
}

impl Strip {
    /// Of the called cause; nothing while none is called, or where its part isn't on a way between the battery's posts.
    pub fn of(job: &Job, status: Status, wording: &Wording) -> Option<Strip> {
        let finding = &job.findings.last()?.event;
        if finding.outcome == Outcome::NotProven {
            return None;
        }
        let circuit = wording.circuit()?;
        let (bad, _) = finding.cause.split('/').next().zip(Some(()))?;
        let way = way_through(circuit, bad)?;
        let cleared = known::cleared_parts(finding, wording);
        let stops = stops(circuit, &way, bad, &cleared, status, wording);
        let told = stops
            .iter()
            .map(|stop| format!("{}: {}", stop.name, stop.words).trim_end_matches([':', ' ']).to_owned());
        let told: Vec<String> = told.collect();
        let alt = wording.say("summary_strip_alt", &[("stops", &told.join("; "))]);
        (stops.len() > 1).then_some(Strip { alt, stops })
    }
}

fn stops(
    circuit: &Circuit,
    way: &[&str],
    bad: &str,
    cleared: &[String],
    status: Status,
    wording: &Wording,
) -> Vec<Stop> {
    let mut stops = vec![stop(Sort::Battery, cleared, wording)];
    for id in way {
        let Some(component) = circuit.components.iter().find(|component| component.id == *id) else {
            continue;
        };
        let sort = Sort::of(component, circuit);
        let stretch = matches!(sort, Sort::Wire | Sort::Joint);
        if *id == bad {
            // The battery itself, or a part of the same sort just before it, is the same stop.
            stops.push(bad_stop(sort, stretch, status, wording));
        } else if !stretch
            && stops
                .last()
                .is_none_or(|last| last.stretch || last.icon != sort.code() || last.good == Some(false))
        {
            stops.push(stop(sort, cleared, wording));
        }
    }
    if stops.last().is_some_and(|last| last.stretch) {
        let name = wording.say("everyday_name_body", &[]);
        stops.push(Stop { icon: "body", name, good: None, words: String::new(), stretch: false });
    }
    shortened(stops)
}

fn stop(sort: Sort, cleared: &[String], wording: &Wording) -> Stop {
    let name = name(sort, wording);
    let good = cleared.contains(&sort.name(wording)).then_some(true);
    let words = if good.is_some() { wording.say("summary_stop_good", &[]) } else { String::new() };
    Stop { icon: sort.code(), name: everyday::sentence(&name), good, words, stretch: false }
}

fn bad_stop(sort: Sort, stretch: bool, status: Status, wording: &Wording) -> Stop {
    let key = if status == Status::Fixed { "summary_stop_repaired" } else { "summary_stop_bad" };
    let name = if stretch {
        wording.say(&format!("everyday_bad_{}", sort.code()), &[])
    } else {
        name(sort, wording)
    };
    Stop {
        icon: if stretch { "" } else { sort.code() },
        name: everyday::sentence(&name),
        good: Some(false),
        words: wording.say(key, &[]),
        stretch,
    }
}

/// The thing itself by what the customer calls it, everything else by its sort.
fn name(sort: Sort, wording: &Wording) -> String {
    match sort {
        Sort::Motor | Sort::Light | Sort::Other => everyday::thing(wording),
        _ => sort.name(wording),
    }
}

/// The first and the last, the bad one and its neighbors, and whatever else fits, from the bad one outwards.
fn shortened(stops: Vec<Stop>) -> Vec<Stop> {
    let count = stops.len();
    if count <= MOST {
        return stops;
    }
    let bad = stops.iter().position(|stop| stop.good == Some(false)).unwrap_or_default();
    let mut kept = vec![0, bad, count.saturating_sub(1)];
    for distance in 1..count {
        for place in [bad.checked_sub(distance), bad.checked_add(distance)].into_iter().flatten() {
            if kept.len() < MOST && place < count && !kept.contains(&place) {
                kept.push(place);
            }
        }
    }
    kept.sort_unstable();
    kept.dedup();
    let place = |(place, stop): (usize, Stop)| kept.contains(&place).then_some(stop);
    stops.into_iter().enumerate().filter_map(place).collect()
}
