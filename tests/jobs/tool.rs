//! Whether the shop should buy a programming tool. The shop and its jobs are invented.

use crate::one_door::approved;
use crate::programming::close;
use crate::shop::*;
use api::entry::*;

#[test]
fn whether_to_buy_a_tool_rests_on_the_shops_own_jobs() {
    let shop = Shop::open();
    let bare = shop.workshop.tool_view().unwrap();
    assert_eq!((bare.seen_jobs, bare.seen_months), (0, 0));
    close(&shop, &[ProgrammingOutcome::Succeeded]);
    close(&shop, &[ProgrammingOutcome::Failed, ProgrammingOutcome::Succeeded]);
    approved(&shop);
    shop.at("2027-03-20T08:00:00-05:00");
    let view = shop.workshop.tool_view().unwrap();
    // Judged 12 a year is one in one month; two were seen in the six months begun since October 12: 3 in 7 months.
    assert_eq!((view.seen_jobs, view.seen_months), (2, 6));
    assert!((view.jobs - 36.0 / 7.0).abs() < 1e-9, "{}", view.jobs);
    assert_eq!(view.picture.len(), 25);
    shop.at("2027-10-20T08:00:00-05:00");
    let later = shop.workshop.tool_view().unwrap();
    assert_eq!(
        (later.seen_jobs, later.seen_months),
        (0, 12),
        "what is older than twelve months counts no more"
    );

    let set = |place: &str, typed: &str| {
        shop.workshop.tool_setting_keep(&SettingEntry { place: place.into(), typed: typed.into() })
    };
    for (place, typed) in [
        ("tool_price", "0"),
        ("training", "0"),
        ("yearly_subscription", "0"),
        ("resale", "0"),
        ("months", "60"),
        ("discount", "0"),
        ("coverage", "100"),
        ("yearly_jobs", "240"),
    ] {
        set(place, typed).unwrap();
    }
    // For nothing, 240 times a year: whatever saves anything pays.
    let gift = shop.workshop.tool_view().unwrap();
    assert_eq!(
        gift.answer,
        if gift.own_cost.parse::<i64>().unwrap() < gift.other_cost.parse::<i64>().unwrap() {
            "buy_brings"
        } else {
            "leave_loses"
        }
    );
    assert_eq!(set("tool_price", "99999").unwrap().answer, "leave_loses");
    assert_eq!(set("coverage", "0").unwrap().answer, "leave_loses");
    for (place, typed, code) in [
        ("tool_price", "-1", "amount_below_zero"),
        ("training", "NaN", "amount_unreadable"),
        ("resale", "1000000000", "amount_over_limit"),
        ("months", "0", "amount_unreadable"),
        ("months", "601", "amount_over_limit"),
        ("months", "1.5", "amount_unreadable"),
        ("months", "99/99/2099", "amount_unreadable"),
        ("discount", "101 %", "money_refused"),
        ("coverage", "🙂", "amount_unreadable"),
        ("yearly_jobs", "-3", "amount_below_zero"),
        ("yearly_jobs", "1e9", "amount_unreadable"),
        ("yearly_jobs", "2001", "amount_over_limit"),
        ("paint", "1", "unknown_choice"),
    ] {
        let error = api::ErrorView::from(set(place, typed).unwrap_err());
        assert_eq!((error.code.as_str(), error.values["place"].as_str()), (code, place), "{typed}");
    }
    let none = |route: &str| SettingEntry { place: format!("{route}/available"), typed: "no".into() };
    shop.workshop.programming_setting_keep(&none("remote_service")).unwrap();
    shop.workshop.programming_setting_keep(&none("dealer_sublet")).unwrap();
    assert_eq!(shop.workshop.tool_view().unwrap().answer, "no_other");
}
