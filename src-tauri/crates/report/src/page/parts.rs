//! Parts with their receipts, the programming, the hand-over.

use super::bill;
use super::warranty::warranty;
use super::wording::Wording;
use evidence::Digest;
use job::event::{PartReceived, ProgrammingDecided, ProgrammingReported, WeighedRoute};
use job::{Attempt, Job, Kept};

/// One paragraph per part; its first line is the title.
pub(super) fn parts(job: &Job, wording: &Wording) -> Vec<Vec<String>> {
    job.parts.iter().map(|kept| part(kept, wording)).collect()
}

fn part(kept: &Kept<PartReceived>, wording: &Wording) -> Vec<String> {
    let event = &kept.event;
    let condition = bill::condition(event.condition, wording);
    let core = (event.core_charge.0 != 0)
        .then(|| wording.say("part_core", &[("amount", &wording.money(event.core_charge))]));
    let bought = [
        wording.say_if("part_number", "number", &event.part_number),
        Some(
            wording
                .say("part_supplier", &[("supplier", &event.supplier), ("when", &wording.date(&kept.wall))]),
        ),
        // What the shop paid is the shop's: the customer's copy has no price to print.
        (event.price.0 != 0).then(|| wording.say("part_paid", &[("price", &wording.money(event.price))])),
        core,
    ];
    let hashes = event.photos.iter().map(|photo| photo.to_string());
    let receipt =
        wording.photos(&event.photos).map(|photos| wording.say("part_receipt", &[("photos", &photos)]));
    let lines = [
        Some(wording.say("part_entry", &[("description", &event.description), ("condition", &condition)])),
        Some(bought.into_iter().flatten().collect::<Vec<_>>().join(", ")),
        wording.say_if("part_return", "terms", &event.return_terms),
        wording.say_if("part_warranty", "terms", &event.warranty),
        receipt,
    ];
    lines.into_iter().flatten().chain(hashes).collect()
}

/// Every decision with the attempts made under it, then attempts whose decision can't be used: none of them is left out.
pub(super) fn programming(job: &Job, wording: &Wording) -> Vec<String> {
    let of = |decision: Option<Digest>| job.programmed.iter().filter(move |one| one.decided == decision);
    let mut lines = Vec::new();
    for kept in &job.programming {
        lines.extend(decided(kept, wording));
        lines.extend(of(Some(kept.record)).flat_map(|one| reported(one, job, wording)));
    }
    let known = |one: &&Attempt| job.decision_of(one).is_some();
    lines.extend(job.programmed.iter().filter(|one| !known(one)).flat_map(|one| reported(one, job, wording)));
    lines
}

fn decided(kept: &Kept<ProgrammingDecided>, wording: &Wording) -> Vec<String> {
    let event = &kept.event;
    let (when, route) = (wording.date(&kept.wall), wording.code_of("route", &event.route));
    let quoted = wording.money(event.quoted);
    // What the shop is quoted and billed is the shop's: the customer's copy has none of it.
    let first = match event.quoted.0 {
        0 => wording.say("programming_decided_plain", &[("when", &when), ("route", &route)]),
        _ => wording.say("programming_decided", &[("when", &when), ("route", &route), ("quoted", &quoted)]),
    };
    let more = [
        wording.say_if("programming_provider", "provider", &event.provider),
        wording.say_if("programming_appointment", "appointment", &appointment(event, wording)),
        wording.say_if("programming_reason", "reason", &event.reason),
    ];
    let weighed = event.weighed.iter().map(|route| weighed(route, wording));
    [first].into_iter().chain(more.into_iter().flatten()).chain(weighed).collect()
}

fn weighed(route: &WeighedRoute, wording: &Wording) -> String {
    let success = route.success.parse().map_or_else(|_| route.success.clone(), ::words::percent);
    let values = [
        ("route", wording.code_of("route", &route.route)),
        ("cost", wording.money(route.expected_cost)),
        ("hours", route.expected_hours.clone()),
        ("success", success),
    ];
    let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
    wording.say("programming_weighed", &values)
}

/// With its offset, or as an older record has it.
fn appointment(event: &ProgrammingDecided, wording: &Wording) -> String {
    if event.appointment_at.is_empty() {
        wording.local_time(&event.appointment)
    } else {
        wording.date(&event.appointment_at)
    }
}

fn reported(attempt: &Attempt, job: &Job, wording: &Wording) -> Vec<String> {
    let (kept, event) = (&attempt.kept, &attempt.kept.event);
    let (when, billed) = (wording.date(&kept.wall), wording.money(event.billed));
    let outcome = wording.code_of("programming_outcome", &event.outcome);
    let software = (!event.software_before.is_empty() || !event.software_after.is_empty()).then(|| {
        let numbers = [("before", event.software_before.as_str()), ("after", &event.software_after)];
        wording.say("programming_software", &numbers)
    });
    let number = attempt.number.to_string();
    let values = [("when", when.as_str()), ("outcome", &outcome), ("billed", &billed), ("number", &number)];
    let several = job.programmed.len() > 1;
    let first = match (several, event.billed.0 != 0) {
        (true, true) => "programming_attempt",
        (true, false) => "programming_attempt_plain",
        (false, true) => "programming_reported",
        (false, false) => "programming_reported_plain",
    };
    let by = job.programmed.iter().find(|other| Some(other.kept.record) == attempt.corrected_by);
    let lines = [
        Some(wording.say(first, &values)),
        by.map(|by| wording.say("programming_corrected", &[("number", &by.number.to_string())])),
        checks(event, wording),
        wording.say_if("programming_supply", "volts", &event.supply_volts),
        voltages(event, wording),
        software,
        wording.photos(&event.photos),
    ];
    lines.into_iter().flatten().collect()
}

/// What was made sure of beforehand.
fn checks(event: &ProgrammingReported, wording: &Wording) -> Option<String> {
    let made = event.checks.iter().map(|check| wording.code_of("programming_check", check));
    let made: Vec<String> = made.collect();
    (!made.is_empty()).then(|| wording.say("programming_checks", &[("checks", &made.join("; "))]))
}

/// The voltages while it ran: how many, from where to where, and how many of them below the maker's window.
fn voltages(event: &ProgrammingReported, wording: &Wording) -> Option<String> {
    let volts = || event.voltages.iter().filter_map(|at| at.volts.parse::<f64>().ok());
    let (lowest, highest) = (volts().min_by(f64::total_cmp)?, volts().max_by(f64::total_cmp)?);
    let values = [
        ("count", event.voltages.len().to_string()),
        ("lowest", lowest.to_string()),
        ("highest", highest.to_string()),
    ];
    let values: Vec<(&str, &str)> = values.iter().map(|(name, value)| (*name, value.as_str())).collect();
    let logged = wording.say("programming_voltages", &values);
    let Some(window) = &event.window else { return Some(logged) };
    let below = event.below_window().to_string();
    let values = [("lowest", window.lowest.as_str()), ("highest", &window.highest), ("below", &below)];
    Some(format!("{logged} {}", wording.say("programming_window", &values)))
}

/// When the vehicle went back, with which terms.
pub(super) fn hand_over(job: &Job, wording: &Wording) -> Vec<String> {
    let Some(kept) = &job.handed_over else { return Vec::new() };
    let lines = [
        Some(wording.say("hand_over_entry", &[("when", &wording.date(&kept.wall))])),
        wording.say_if("hand_over_warranty", "warranty", &warranty(job, wording).unwrap_or_default()),
        wording.say_if("hand_over_old_parts", "old_parts", &kept.event.old_parts),
        wording.photos(&kept.event.photos),
    ];
    lines.into_iter().flatten().collect()
}
