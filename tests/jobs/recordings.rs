//! Lowest and highest of a recording, and what is done to a circuit while it is read: from the form to the diagnosis.

use crate::shop::*;
use api::entry::*;
use api::view::{JobView, ReadingView, TestView};

/// A job at a circuit of the library.
fn measuring(shop: &Shop, circuit: &str) -> String {
    let job = shop.job().job;
    shop.workshop.meter_choose(&job, &meter()).unwrap();
    shop.workshop.circuit_choose(&job, circuit).unwrap();
    job
}

fn test(view: &JobView, id: &str) -> TestView {
    view.circuit.as_ref().unwrap().tests.iter().find(|test| test.id == id).unwrap().clone()
}

/// What the form sends when nothing but the numbers is entered.
fn at(test: &TestView, value: &str, lowest: &str) -> ReadingEntry {
    ReadingEntry {
        test: test.id.clone(),
        value: value.into(),
        lowest: lowest.into(),
        mode: test.mode,
        red: test.red.clone(),
        black: test.black.clone(),
        state: test.state.clone(),
        condition: test.condition,
        ..reading("", "V")
    }
}

fn last(view: &JobView) -> ReadingView {
    view.readings.last().unwrap().clone()
}

fn causes(view: &JobView) -> Vec<(String, f64)> {
    view.diagnosis.as_ref().unwrap().causes.iter().map(|c| (c.id.clone(), c.probability)).collect()
}

/// The test asks for the lowest; the lowest alone is a reading, beside a value it counts all the same, and it says what the same
/// number says that was read as it stood.
#[test]
fn the_lowest_while_cranking_is_asked_for_kept_and_weighed() {
    let kept = |value: &str, lowest: &str| {
        let shop = Shop::open();
        let job = measuring(&shop, "starter_power");
        let cranking = test(&shop.workshop.job_view(&job).unwrap(), "battery_cranking");
        assert_eq!(cranking.compares, "lowest");
        shop.workshop.reading_keep(&job, &at(&cranking, value, lowest)).unwrap()
    };
    let (alone, beside, stood) = (kept("", "8,10"), kept("12.4", "8.10"), kept("8.10", ""));
    assert_eq!((last(&alone).value.as_str(), last(&alone).lowest.as_str()), ("", "8.10"));
    assert_eq!((last(&beside).value.as_str(), last(&beside).lowest.as_str()), ("12.4", "8.10"));
    assert_eq!(causes(&alone), causes(&stood));
    // The value's own digits make the meter coarser by a hair.
    let shares: std::collections::BTreeMap<String, f64> = causes(&stood).into_iter().collect();
    assert!(causes(&beside).iter().all(|(id, share)| (shares[id] - share).abs() < 0.05));
    assert_ne!(causes(&stood), causes(&kept("12.4", "")));
    let line = alone.timeline.last().unwrap();
    assert_eq!(line.values.get("lowest").map(String::as_str), Some("8.10"));
}

#[test]
fn recordings_as_they_are_typed() {
    let shop = Shop::open();
    let job = shop.measuring();
    let keep = |value: &str, lowest: &str, highest: &str| {
        let (lowest, highest) = (lowest.into(), highest.into());
        let entry = ReadingEntry { lowest, highest, test: String::new(), ..reading(value, "V") };
        let kept = shop.workshop.reading_keep(&job, &entry);
        kept.map(|view| (last(&view).lowest, last(&view).highest)).map_err(|error| error.code())
    };
    assert_eq!(keep("", "11.9", "11.2"), Err("recording_out_of_order"));
    assert_eq!(keep("", "11.2", "11.9"), Err("reading_value_missing"), "nothing says which one counts");
    assert_eq!(keep("", "", ""), Err("reading_not_a_number"));
    for odd in ["🦊", "99/99/2099", "1e9", "12,345,6", "-"] {
        assert_eq!(keep("12.4", odd, ""), Err("reading_not_a_number"), "{odd:?}");
        assert_eq!(keep("12.4", "", odd), Err("reading_not_a_number"), "{odd:?}");
    }
    assert_eq!(keep("12.4", "1000000000", ""), Err("reading_out_of_range"));
    assert!(shop.workshop.job_view(&job).unwrap().readings.is_empty(), "nothing is sealed");
    assert_eq!(
        keep("12.4", "11,20", "-0.00").map_err(|code| code.len()),
        Err("recording_out_of_order".len())
    );
    assert_eq!(keep("12.4", "11,20", "12.60"), Ok(("11.20".into(), "12.60".into())));
    assert_eq!(keep("", "", "12.6"), Ok(("".into(), "12.6".into())));
    let view = shop.workshop.job_view(&job).unwrap();
    assert!(view.diagnosis.unwrap().doubts.iter().all(|doubt| doubt.code != "not_weighed"));
    // Nothing is recorded at a question.
    let asked = ReadingEntry { mode: MeterMode::YesNo, lowest: "3".into(), ..reading("yes", "yes_no") };
    let asked = ReadingEntry { test: "load_works".into(), ..asked };
    match shop.workshop.reading_keep(&job, &asked) {
        Ok(view) => assert_eq!(last(&view).lowest, ""),
        Err(error) => assert_eq!(error.code(), "unknown_choice"),
    }
}

/// While the complaint is away, the next test is one that provokes the fault: the circuit's own where there is one at the same
/// leads, else the same test with the harness wiggled. It isn't proposed once it was done, nor while the complaint is there.
#[test]
fn while_the_complaint_is_away_the_next_step_is_to_provoke_the_fault() {
    let shop = Shop::open();
    let job = measuring(&shop, "lamps_shared_ground");
    let view = shop.workshop.job_view(&job).unwrap();
    let said = |complaint: ComplaintPresent| {
        let battery = test(&view, "battery_volts");
        let entry = ReadingEntry { complaint_present: complaint, ..at(&battery, "12.5", "") };
        shop.workshop.reading_keep(&job, &entry).unwrap().diagnosis.unwrap().next_step
    };
    assert_eq!(said(ComplaintPresent::Yes).condition, None);
    let step = said(ComplaintPresent::No);
    assert_eq!(step.condition, Some(ReadingCondition::Wiggled));
    // "Unknown" changes nothing about it.
    assert_eq!(said(ComplaintPresent::Unknown).condition, Some(ReadingCondition::Wiggled));
    assert_eq!(said(ComplaintPresent::Yes).condition, None);
}

#[test]
fn a_circuits_own_test_for_it_takes_the_place_of_the_other() {
    let shop = Shop::open();
    let job = measuring(&shop, "ignition_feed");
    let view = shop.workshop.job_view(&job).unwrap();
    let battery = at(&test(&view, "battery_volts"), "12.5", "");
    let away = ReadingEntry { complaint_present: ComplaintPresent::No, ..battery };
    let view = shop.workshop.reading_keep(&job, &away).unwrap();
    let own = test(&view, "coil_feed_wiggled");
    assert_eq!((own.compares.as_str(), own.condition), ("lowest", Some(ReadingCondition::Wiggled)));
    // Everything but the feed at the coil is out of reach, so that this is what is offered.
    for other in test_ids(&view) {
        if other != "coil_feed" && other != own.id {
            shop.workshop.test_unreachable(&job, &other, true).unwrap();
        }
    }
    let step = shop.workshop.job_view(&job).unwrap().diagnosis.unwrap().next_step;
    assert_eq!((step.test.as_str(), step.condition), (own.id.as_str(), own.condition));
    // It dipped, though nobody saw the complaint: that is the fault.
    let feed = |view: &JobView| {
        let wire = |id: &str| {
            ["wire", "ignition", "fuse", "coil_load", "strap"].iter().any(|part| id.starts_with(part))
        };
        causes(view).iter().filter(|(id, _)| wire(id)).map(|(_, share)| share).sum::<f64>()
    };
    let entry = ReadingEntry { complaint_present: ComplaintPresent::No, ..at(&own, "12.4", "3.10") };
    let after = shop.workshop.reading_keep(&job, &entry).unwrap();
    assert_eq!(last(&after).condition, Some(ReadingCondition::Wiggled));
    assert!(feed(&after) > 0.5, "{}", feed(&after));
    let step = after.diagnosis.unwrap().next_step;
    assert_ne!(step.test, own.id, "it was done");
}

fn test_ids(view: &JobView) -> Vec<String> {
    view.circuit.as_ref().unwrap().tests.iter().map(|test| test.id.clone()).collect()
}

/// The same test after the repair is the one with the same condition, about the same number.
#[test]
fn a_proof_wants_the_same_condition_before_and_after() {
    let shop = Shop::open();
    let job = measuring(&shop, "starter_power");
    let cranking = test(&shop.workshop.job_view(&job).unwrap(), "battery_cranking");
    let keep = |entry: ReadingEntry| last(&shop.workshop.reading_keep(&job, &entry).unwrap()).record;
    let before = keep(at(&cranking, "12.4", "8.10"));
    shop.workshop.finding_keep(&job, &not_proven()).unwrap();
    shop.workshop.estimate_keep(&job, &lines(vec![line("labour", "90")])).unwrap();
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    let repaired = |entry: ReadingEntry| ReadingEntry { complaint_present: ComplaintPresent::No, ..entry };
    let wiggled = Some(ReadingCondition::Wiggled);
    let others = [
        keep(repaired(ReadingEntry { condition: wiggled, ..at(&cranking, "12.5", "10.2") })),
        keep(repaired(at(&cranking, "12.5", ""))),
    ];
    let proof = |after: &str| {
        let entry = ProofEntry { before: before.clone(), after: after.into(), note: String::new() };
        Shop::code(shop.workshop.proof_keep(&job, &entry))
    };
    assert!(others.iter().all(|other| proof(other) == "not_the_same_test"));
    let after = keep(repaired(at(&cranking, "", "10.2")));
    assert_eq!(proof(&after), "kept");
}

/// A beep is an answer at two leads; it takes no number, and a number is no beep.
#[test]
fn a_beep_answers_a_test_for_ohms() {
    let shop = Shop::open();
    let job = shop.measuring();
    let ohms = test(&shop.workshop.job_view(&job).unwrap(), "coil_ohms");
    let keep = |value: &str, unit: &str, red: &str| {
        let entry = ReadingEntry {
            mode: MeterMode::Continuity,
            unit: of_code(unit),
            red: red.into(),
            lowest: "3".into(),
            ..at(&ohms, value, "")
        };
        shop.workshop.reading_keep(&job, &entry)
    };
    assert_eq!(Shop::code(keep("0.4", "ohm", &ohms.red)), "reading_unit");
    assert_eq!(Shop::code(keep("yes", "yes_no", "nowhere")), "unknown_choice");
    let view = keep("no", "yes_no", &ohms.red).unwrap();
    assert_eq!((last(&view).value.as_str(), last(&view).lowest.as_str()), ("no", ""));
    assert!(view.diagnosis.unwrap().doubts.iter().all(|doubt| doubt.code != "not_weighed"));
}
