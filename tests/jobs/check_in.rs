//! What is written down when a vehicle comes in: who may approve, fault codes, ways to reach somebody, what a VIN says.

use crate::shop::*;
use api::entry::*;
use job::event::{Event, IntakeKept};
use serde_json::json;

fn keep(shop: &Shop, job: &str, entry: IntakeEntry) -> String {
    Shop::code(shop.workshop.intake_keep(job, &entry))
}

#[test]
fn who_may_approve_and_up_to_which_total_are_fields_of_their_own() {
    let shop = Shop::open();
    let job = shop.measuring();
    let entry = IntakeEntry {
        customer: Some("Odalys Brandt".into()),
        approver_name: Some("Wim Brandt".into()),
        approver_role: Some("brother".into()),
        approver_phone: Some("512 555 0143".into()),
        approver_limit: Some("$1,000.50".into()),
        ..Default::default()
    };
    let intake = shop.workshop.intake_keep(&job, &entry).unwrap().intake;
    assert_eq!((intake.approver_name.as_str(), intake.approver_limit.as_str()), ("Wim Brandt", "100050"));
    assert_eq!(
        keep(&shop, &job, IntakeEntry { approver_limit: Some("a lot".into()), ..Default::default() }),
        "amount_unreadable"
    );
    let same = shop.workshop.job_view(&job).unwrap().records;
    assert_eq!(shop.workshop.intake_keep(&job, &entry).unwrap().records, same, "the same is not kept again");

    shop.workshop.reading_keep(&job, &reading("0.02", "V")).unwrap();
    shop.workshop.finding_keep(&job, &not_proven()).unwrap();
    let view = shop.workshop.estimate_keep(&job, &lines(vec![line("labour", "1000.50")])).unwrap();
    let wait = &view.waiting[0];
    assert_eq!((wait.whom.as_str(), wait.phone.as_str()), ("Wim Brandt", "512 555 0143"));
    assert!(!view.advice.contains(&"over_approver_limit".to_owned()), "just up to the limit");
    let view = shop.workshop.estimate_keep(&job, &lines(vec![line("labour", "1000.51")])).unwrap();
    assert!(view.advice.contains(&"over_approver_limit".to_owned()));
    // A withheld text that was emptied counts no longer, although the record holds none of it.
    let named = IntakeEntry { customer: Some(String::new()), ..Default::default() };
    let view = shop.workshop.intake_keep(&job, &named).unwrap();
    assert_eq!(
        (view.intake.customer.as_str(), view.timeline.last().unwrap().values["fields"].as_str()),
        ("", "customer")
    );
    let freed = IntakeEntry { approver_limit: Some(String::new()), ..Default::default() };
    let view = shop.workshop.intake_keep(&job, &freed).unwrap();
    assert!(
        view.intake.approver_limit.is_empty() && !view.advice.contains(&"over_approver_limit".to_owned())
    );
}

/// A record as it was written before there were these fields reads as it did and writes the same bytes again.
#[test]
fn an_older_intake_stays_what_it_was() {
    let older = json!({ "make": "Arvel", "approver": "Wim, my brother, up to 600", "odometer": "84210" });
    let read: IntakeKept = serde_json::from_value(older.clone()).unwrap();
    assert_eq!(read.approver.as_deref(), Some("Wim, my brother, up to 600"));
    assert_eq!((read.approver_name.clone(), read.limit(), read.fault_codes.clone()), (None, None, None));
    assert_eq!(serde_json::to_value(&read).unwrap(), older);
    assert!(Event::IntakeKept(read).check().is_ok());
    // A limit that can't be reckoned with makes no record unusable; no new record takes it.
    let odd = IntakeKept { approver_limit: Some("six hundred".into()), ..IntakeKept::default() };
    assert_eq!(odd.limit(), None);
    assert!(Event::IntakeKept(odd.clone()).check().is_ok() && Event::IntakeKept(odd).admissible().is_err());
}

#[test]
fn fault_codes_are_kept_whole_one_by_one() {
    let shop = Shop::open();
    let job = shop.job().job;
    let frame = vec![
        FrameLine { name: "Engine speed".into(), value: "2,150".into(), unit: "rpm".into() },
        FrameLine::default(),
    ];
    let first = FaultCodeEntry { code: "p0301".into(), freeze_frame: frame, ..Default::default() };
    let second = FaultCodeEntry {
        code: "U0100 87".into(),
        status: FaultStatus::Permanent,
        module: "BCM".into(),
        ..Default::default()
    };
    let codes = |codes: &[&FaultCodeEntry]| IntakeEntry {
        fault_codes: Some(codes.iter().map(|code| (*code).clone()).collect()),
        ..Default::default()
    };
    shop.workshop.intake_keep(&job, &codes(&[&first])).unwrap();
    let view = shop.workshop.intake_keep(&job, &codes(&[&first, &second])).unwrap();
    let written: Vec<&str> = view.intake.fault_codes.iter().map(|code| code.code.as_str()).collect();
    assert_eq!(written, ["P0301", "U0100-87"]);
    assert_eq!(view.intake.fault_codes[0].freeze_frame.len(), 1, "an empty line is none");
    let line = view.timeline.last().unwrap();
    assert_eq!(
        (line.values["fields"].as_str(), line.values["codes"].as_str()),
        ("fault_codes", "P0301, U0100-87")
    );
    assert_eq!(keep(&shop, &job, codes(&[&first, &first])), "fault_code_twice");
    let pending = FaultCodeEntry { status: FaultStatus::Pending, ..first.clone() };
    assert_eq!(keep(&shop, &job, codes(&[&first, &pending])), "kept", "a code can be stored and pending");
    for wrong in ["P4301", "X0301", "P03", "P0301-1", "0301"] {
        let entry = FaultCodeEntry { code: wrong.into(), ..Default::default() };
        assert_eq!(keep(&shop, &job, codes(&[&entry])), "fault_code_form", "{wrong}");
    }
    assert_eq!(shop.workshop.intake_keep(&job, &codes(&[])).unwrap().intake.fault_codes.len(), 0);
}

#[test]
fn a_phone_number_and_an_address_are_checked_in_form_alone() {
    let shop = Shop::open();
    let job = shop.job().job;
    let phone =
        |text: &str| keep(&shop, &job, IntakeEntry { phone: Some(text.into()), ..Default::default() });
    let email =
        |text: &str| keep(&shop, &job, IntakeEntry { email: Some(text.into()), ..Default::default() });
    assert_eq!(
        (phone("call me"), phone("(512) 555-0142 x3"), phone("")),
        ("phone_form".into(), "kept".into(), "kept".into())
    );
    assert_eq!(
        (email("odalys@"), email("odalys@example.com"), email("")),
        ("email_form".into(), "kept".into(), "kept".into())
    );
}

/// What goes to whom: names to whoever has to see that it was agreed to, numbers to the customer alone, codes to all.
#[test]
fn the_new_fields_are_withheld_like_their_neighbors() {
    let received = |recipient| job::sharing::received(recipient, "intake_kept").collect::<Vec<_>>();
    for (field, like) in [
        ("approver_name", "approver"),
        ("approver_role", "approver"),
        ("approver_limit", "approver"),
        ("approver_phone", "phone"),
    ] {
        for recipient in Recipient::ALL {
            let of = |field: &str| received(recipient).contains(&field);
            assert_eq!(of(field), of(like), "{recipient:?} {field}");
        }
    }
}

/// 49 CFR 565.15: the code repeats after 30 years; position 7 tells cars and light trucks apart.
#[test]
fn a_vin_says_its_year_and_region_and_no_more() {
    let shop = Shop::open();
    let said = |vin: &str| {
        let view = shop.workshop.vin_check(vin);
        (view.model_year, view.model_year_otherwise, view.region)
    };
    let texts =
        |year: &str, other: &str, region: &str| (year.to_owned(), other.to_owned(), region.to_owned());
    // The regulation's own example: a digit in position 7, code 5; 2035 is still to come.
    assert_eq!(said("1G4AH59H45G118341"), texts("2005", "", "north_america"));
    // A letter in position 7 and code G: 2016, or 1986 for what is heavy or has no engine. Nobody has the first character 0.
    assert_eq!(said("0ZX4C2HB0GT010427"), texts("2016", "1986", ""));
    // Worked in the agency's outline: a letter in position 7, code A.
    assert_eq!(said("1J9RP1A36A1644345"), texts("2010", "1980", "north_america"));
    assert_eq!(said("11111111111111111"), texts("2001", "", "north_america"));
}
