//! What a verdict shows of itself: its readings, what would overturn it, the shop's closed jobs, testing or buying.

use crate::shop::Shop;
use api::entry::BuyPriceEntry;

/// The wire's drop of 7.9 V was the last reading, and the one the verdict rests on.
#[test]
fn a_verdict_names_its_readings() {
    let shop = Shop::open();
    let view = shop.demo_job(("reading_keep", 7));
    let diagnosis = view.diagnosis.unwrap();
    let leading = &diagnosis.causes[0];
    assert_eq!(leading.id, "wire_control/high_resistance");
    assert!(!leading.grounds.is_empty());
    for ground in &leading.grounds {
        let reading = view.readings.iter().find(|reading| reading.number == ground.number).unwrap();
        assert_eq!(reading.record, ground.record);
        assert!(ground.times >= 1.0 && reading.corrected_by.is_empty());
    }
    let strongest = &leading.grounds[0];
    assert!(strongest.speaks_for && leading.grounds.iter().all(|ground| ground.times <= strongest.times));
    // Against the module speaks what its output showed under load (reading 7: full voltage).
    assert!(
        diagnosis.modules[0].grounds.iter().any(|ground| !ground.speaks_for),
        "{:?}",
        diagnosis.modules[0].grounds
    );
    for overturn in diagnosis.overturned_by.iter().chain(&diagnosis.modules[0].overturned_by) {
        assert!(view.circuit.as_ref().unwrap().tests.iter().any(|test| test.id == overturn.test));
        assert!(overturn.chance > 0.0 && overturn.chance < 1.0);
    }
}

/// Nothing counts before hand-over; then the job counts for others, never for itself.
#[test]
fn closed_jobs_count_once_proven_and_handed_over() {
    let shop = Shop::open();
    shop.demo_job(("invoice_keep", 1));
    let of = |view: &api::view::JobView, id: &str| {
        let diagnosis = view.diagnosis.as_ref().unwrap();
        diagnosis.causes.iter().find(|cause| cause.id == id).unwrap().probability
    };
    let count = |view: &api::view::JobView| view.diagnosis.as_ref().unwrap().closed_jobs;
    let other = shop.measuring();
    let before = shop.workshop.job_view(&other).unwrap();
    assert_eq!(count(&before), 0, "an invoiced job isn't closed yet");
    let closed = shop.demo_job(("hand_over", 1));
    assert_eq!(count(&closed), 0, "a job doesn't vouch for itself");
    let after = shop.workshop.job_view(&other).unwrap();
    assert_eq!(count(&after), 1);
    // Dirichlet: the file's odds weigh 30 jobs and this one counts one more, so that the wire gains 1 + 1/(30 p) over
    // every cause that wasn't proven; p is its share of the file's odds.
    let gained = |id: &str| of(&after, id) / of(&before, id);
    let expected = 1.0 + 1.0 / (30.0 * share_of_odds("wire_control/high_resistance"));
    // Beside a cause that fails in the same way: how much of a cause only looks like it hangs on that.
    let causes = before.diagnosis.as_ref().unwrap().causes.iter().map(|cause| cause.id.as_str());
    let alike = |id: &&str| id.ends_with("/high_resistance") && *id != "wire_control/high_resistance";
    let alike = causes.into_iter().find(alike).expect("another wire or connection with too much resistance");
    let gain = gained("wire_control/high_resistance") / gained(alike);
    assert!((gain - expected).abs() < 1e-6 * expected, "{gain} {expected}");
    // What was counted is frozen with the next finding.
    let again = shop.demo_job(("finding_keep", 1));
    assert_eq!(again.diagnosis.unwrap().closed_jobs, 1);
}

/// Share of a cause in the odds of the circuit file, what it doesn't contain included.
fn share_of_odds(cause: &str) -> f64 {
    let circuit = circuit::library::find("relay_high_side").unwrap();
    let odds = |id: &str, fault: &circuit::FaultSpec| {
        let mode = serde_json::to_value(fault.mode).unwrap();
        (format!("{id}/{}", mode.as_str().unwrap()), fault.odds)
    };
    let parts = circuit.components.iter();
    let all: Vec<(String, f64)> =
        parts.flat_map(|part| part.faults.iter().map(move |fault| odds(&part.id, fault))).collect();
    let own = all.iter().find(|(id, _)| id == cause).unwrap().1;
    own / (all.iter().map(|(_, odds)| odds).sum::<f64>() + circuit.unmodeled_odds)
}

#[test]
fn testing_or_buying_needs_a_price_and_changes_no_verdict() {
    let shop = Shop::open();
    let view = shop.demo_job(("reading_keep", 5));
    let gate = view.diagnosis.as_ref().unwrap().modules[0].clone();
    let compared = view.diagnosis.unwrap().test_or_buy.unwrap();
    assert_eq!((compared.cheaper.as_str(), compared.price_from.as_str()), ("", ""), "no price, no advice");
    let price = |part: &str| {
        let entry = BuyPriceEntry { part: part.into(), programming: "125".into() };
        let view = shop.workshop.buy_price_keep(&view.job, &entry).unwrap();
        let diagnosis = view.diagnosis.unwrap();
        assert_eq!(diagnosis.modules[0].may_be_called, gate.may_be_called);
        assert!((diagnosis.modules[0].probability - gate.probability).abs() < 1e-12);
        diagnosis.test_or_buy.unwrap()
    };
    let dear = price("900,00");
    assert_eq!((dear.part.as_str(), dear.programming.as_str()), ("90000", "12500"));
    assert_eq!((dear.cheaper.as_str(), dear.price_from.as_str()), ("test", "typed"));
    let cents = |text: &str| text.parse::<i64>().unwrap();
    assert!(
        cents(&dear.buy_cost) >= 102_500,
        "buying costs the part, its programming and the search after it"
    );
    assert!((cents(&dear.buy_cost) - cents(&dear.test_cost) - cents(&dear.by)).abs() <= 1);
    let bad = BuyPriceEntry { part: "-1".into(), programming: String::new() };
    assert_ne!(Shop::code(shop.workshop.buy_price_keep(&view.job, &bad)), "kept");
}

/// A finding goes to customers: neither the shop's rate nor its price for buying may be in it.
#[test]
fn a_finding_freezes_grounds_but_no_money() {
    let shop = Shop::open();
    let view = shop.demo_job(("reading_keep", 7));
    let entry = BuyPriceEntry { part: "900".into(), programming: String::new() };
    shop.workshop.buy_price_keep(&view.job, &entry).unwrap();
    let words = api::entry::FindingEntry {
        words: "Wire.".into(),
        cause: "wire_control/high_resistance".into(),
        not_proven: false,
    };
    shop.workshop.finding_keep(&view.job, &words).unwrap();
    let logs = shop.folder.path().join("logs");
    let text: String = walk(&logs).iter().map(|path| std::fs::read_to_string(path).unwrap()).collect();
    assert!(text.contains("overturned_by") && text.contains("log_odds"), "grounds are frozen");
    assert!(!text.contains("buy_cents"), "no price in a record");
}

fn walk(folder: &std::path::Path) -> Vec<std::path::PathBuf> {
    let entries = std::fs::read_dir(folder).unwrap().map(|entry| entry.unwrap().path());
    entries.flat_map(|path| if path.is_dir() { walk(&path) } else { vec![path] }).collect()
}
