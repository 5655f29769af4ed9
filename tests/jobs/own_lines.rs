//! Lines of the shop's own, from the records of its jobs, and those that were pinned.

use crate::shop::*;
use api::entry::*;

fn labor(words: &str, price: &str) -> LineEntry {
    LineEntry { description: words.into(), ..line("labour", price) }
}

fn shown(lines: &[api::view::OwnLineView]) -> Vec<(&str, &str, bool, u32)> {
    let one = |own| -> (&str, &str, bool, u32) {
        let own: &api::view::OwnLineView = own;
        (&own.line.description, &own.line.unit_price, own.pinned, own.jobs)
    };
    lines.iter().map(one).collect()
}

#[test]
fn what_was_written_before_is_offered_again_at_its_newest_price() {
    let shop = Shop::open();
    let first = shop.measuring();
    shop.workshop.estimate_keep(&first, &lines(vec![labor("Fit the relay", "90")])).unwrap();
    shop.at("2026-10-13T09:00:00-05:00");
    let second = shop.measuring();
    shop.workshop
        .estimate_keep(&second, &lines(vec![labor("fit the  relay", "95"), labor("Find the fault", "120")]))
        .unwrap();
    shop.workshop.estimate_keep(&second, &lines(vec![labor("fit the relay", "96")])).unwrap();
    let own = shop.workshop.own_lines().unwrap();
    assert_eq!(shown(&own), [("fit the relay", "9600", false, 2)], "a version that was replaced is no habit");
    let pin = |line: LineEntry, pinned| shop.workshop.line_pin(&LinePinEntry { line, pinned });
    let own = pin(labor("Find the fault", "125.50"), true).unwrap();
    assert_eq!(shown(&own), [("Find the fault", "12550", true, 0), ("fit the relay", "9600", false, 2)]);
    let own = pin(labor("FIND the fault", "130"), true).unwrap();
    assert_eq!(own[0].line.unit_price, "13000", "pinned anew, it takes the place of the earlier one");
    assert_eq!(pin(labor("find the fault", "1"), false).unwrap().len(), 1);
    for odd in ["-1", "1e9", "12.345", "🔧", ""] {
        assert_ne!(Shop::code(pin(labor("Odd", odd), true)), "kept", "{odd:?}");
    }
    assert_ne!(Shop::code(pin(labor(" ", "10"), true)), "kept");
    for number in 0..40 {
        pin(labor(&format!("Line {number}"), "1"), true).unwrap();
    }
    assert_eq!(Shop::code(pin(labor("One more", "1"), true)), "too_many_pinned");
    assert_eq!(shop.workshop.own_lines().unwrap().len(), 41);
}
