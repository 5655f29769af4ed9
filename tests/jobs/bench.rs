//! The bench: the circuit drawn with what is known, in the position of the key that is asked for.

use crate::shop::*;
use api::entry::*;
use api::view::BenchView;

fn bench(shop: &Shop, job: &str, language: &str, position: &str) -> BenchView {
    let entry = BenchEntry { language: language.into(), position: position.into(), wide: false };
    shop.workshop.bench_view(job, &entry).unwrap().unwrap()
}

/// A reading stands at its point in the state it was taken in, hollow in another; the next test's leads are in the picture, and
/// nothing of the picture is kept.
#[test]
fn a_reading_stands_at_its_point_and_the_next_leads_are_shown() {
    let shop = Shop::open();
    let job = shop.job().job;
    let entry = BenchEntry::default();
    assert!(shop.workshop.bench_view(&job, &entry).unwrap().is_none(), "no circuit is chosen");
    shop.workshop.meter_choose(&job, &meter()).unwrap();
    let view = shop.workshop.circuit_choose(&job, "relay_high_side").unwrap();
    let test =
        |id: &str| view.circuit.as_ref().unwrap().tests.iter().find(|test| test.id == id).unwrap().clone();
    let control = test("control_loaded");
    let reading = ReadingEntry {
        test: control.id.clone(),
        mode: control.mode,
        red: control.red.clone(),
        black: control.black.clone(),
        state: control.state.clone(),
        ..reading("0.31", "V")
    };
    let kept = shop.workshop.reading_keep(&job, &reading).unwrap();
    let own = bench(&shop, &job, "en", "on");
    assert!(own.picture.drawn && own.picture.height <= 420.0);
    let bead = own.picture.beads.iter().find(|bead| bead.points.contains(&control.red)).unwrap();
    assert_eq!((bead.number.as_str(), bead.unit.as_str()), ("0.31", "V"));
    assert_eq!(bead.observation, kept.readings.last().unwrap().record);
    let other = bench(&shop, &job, "en", "off");
    let bead = other.picture.beads.iter().find(|bead| bead.points.contains(&control.red)).unwrap();
    assert!(!bead.now, "it was taken with the key on");
    assert_eq!((own.picture.height, own.picture.folded), (other.picture.height, other.picture.folded));
    let switch = own.switch.unwrap();
    assert_eq!((switch.id.as_str(), switch.shown.as_str()), ("key", "on"));
    let taken: Vec<(&str, u32)> =
        switch.positions.iter().map(|one| (one.id.as_str(), one.readings)).collect();
    assert!(taken.contains(&("on", 1)) && taken.contains(&("off", 0)), "{taken:?}");
    // Where nothing is asked for, the next test's position is shown, with its leads.
    let own = bench(&shop, &job, "es", "");
    let next = test(&kept.diagnosis.unwrap().next_step.test);
    let shown = next.state.get("key").cloned().unwrap_or_default();
    assert!(shown.is_empty() || own.switch.unwrap().shown == shown);
    let leads = [&next.red, &next.black].iter().filter(|point| !point.is_empty()).count();
    assert_eq!(own.picture.plates.len(), leads);
    assert_eq!(shop.workshop.job_view(&job).unwrap().records, kept.records);
}

/// What a healthy circuit shows at a point is said for the key that is looked at.
#[test]
fn healthy_volts_are_those_of_the_shown_position() {
    let shop = Shop::open();
    let job = shop.job().job;
    shop.workshop.meter_choose(&job, &meter()).unwrap();
    shop.workshop.circuit_choose(&job, "ignition_feed").unwrap();
    let healthy = |position: &str| bench(&shop, &job, "en", position).healthy;
    let (on, off) = (healthy("on"), healthy("off"));
    let changed: Vec<&String> =
        on.keys().filter(|point| on[*point] - off.get(*point).unwrap_or(&0.0) > 11.0).collect();
    // Behind the ignition switch, not before it.
    assert!(!changed.is_empty() && !changed.iter().any(|point| *point == "bat_pos"), "{changed:?}");
}

/// A position that the circuit doesn't have shows the next test's; a job that isn't there is said.
#[test]
fn odd_questions_have_answers() {
    let shop = Shop::open();
    let job = shop.measuring();
    let own = bench(&shop, &job, "xx", "\u{1f511} flying");
    let switch = own.switch.unwrap();
    assert!(switch.positions.iter().any(|one| one.id == switch.shown));
    assert_eq!(Shop::code(shop.workshop.bench_view("nowhere", &BenchEntry::default())), "unknown_choice");
}
