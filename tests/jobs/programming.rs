//! Programming: every attempt with its bill, the shop's own numbers, quotes, and the price of a module. The shop, its
//! providers and amounts are invented.

use crate::one_door::approved;
use crate::shop::*;
use api::entry::*;
use api::view::{JobView, NumberView, RouteView};
use money::programming::{SuccessBelief, expected_at};

pub fn decision(route: ProgrammingRoute, quoted: &str) -> ProgrammingEntry {
    ProgrammingEntry {
        route: Some(route),
        provider: "Lumen Remote".into(),
        quoted: quoted.into(),
        appointment: String::new(),
        reason: String::new(),
    }
}

pub fn attempt(outcome: ProgrammingOutcome, billed: &str) -> ProgrammedEntry {
    ProgrammedEntry {
        outcome,
        supply_volts: "13.6".into(),
        supply_confirmed: false,
        software_before: String::new(),
        software_after: String::new(),
        billed: billed.into(),
        photos: vec![],
        corrects: String::new(),
        checks: vec![],
        voltages: String::new(),
        window_lowest: String::new(),
        window_highest: String::new(),
    }
}

fn route(view: &JobView, route: ProgrammingRoute) -> &RouteView {
    view.programming.routes.iter().find(|one| one.route == route).unwrap()
}

fn number<'a>(numbers: &'a [NumberView], name: &str) -> &'a NumberView {
    numbers.iter().find(|number| number.name == name).unwrap()
}

pub fn set(shop: &Shop, place: &str, typed: &str) -> String {
    Shop::code(
        shop.workshop.programming_setting_keep(&SettingEntry { place: place.into(), typed: typed.into() }),
    )
}

#[test]
fn a_failed_session_that_was_billed_stays_beside_the_one_that_worked() {
    let shop = Shop::open();
    let job = shop.measuring();
    let work = &shop.workshop;
    work.programming_decide(&job, &decision(ProgrammingRoute::RemoteService, "145")).unwrap();
    work.programming_report(&job, &attempt(ProgrammingOutcome::Failed, "145")).unwrap();
    work.programming_report(&job, &attempt(ProgrammingOutcome::Failed, "40")).unwrap();
    work.programming_decide(&job, &decision(ProgrammingRoute::DealerSublet, "340")).unwrap();
    let view = work.programming_report(&job, &attempt(ProgrammingOutcome::Succeeded, "355.50")).unwrap();
    let shown: Vec<_> = view
        .programming
        .attempts
        .iter()
        .map(|one| (one.number, one.outcome, one.billed.as_str(), one.quoted.as_str()))
        .collect();
    use ProgrammingOutcome::{Failed, Succeeded};
    assert_eq!(
        shown,
        [(1, Failed, "14500", "14500"), (2, Failed, "4000", "14500"), (3, Succeeded, "35550", "34000")]
    );
    let cost = view.programming.cost.unwrap();
    // By hand: 145 and 340 quoted; 145, 40 and 355.50 billed.
    assert_eq!(
        (cost.quoted.as_str(), cost.billed.as_str(), cost.over_quote.as_str()),
        ("48500", "54050", "5550")
    );
    assert_eq!(view.programming.earlier_decisions.len(), 1);
    assert_eq!(view.programming.decision.unwrap().route, ProgrammingRoute::DealerSublet);
}

#[test]
fn an_attempt_written_down_wrong_is_corrected_once_and_stays_visible() {
    let shop = Shop::open();
    let job = shop.measuring();
    let work = &shop.workshop;
    work.programming_decide(&job, &decision(ProgrammingRoute::RemoteService, "145")).unwrap();
    let view = work.programming_report(&job, &attempt(ProgrammingOutcome::Failed, "1450")).unwrap();
    let wrong = view.programming.attempts[0].record.clone();
    // Decided anew meanwhile: the correction stays with the decision that the attempt was made under.
    work.programming_decide(&job, &decision(ProgrammingRoute::DealerSublet, "340")).unwrap();
    let right = ProgrammedEntry { corrects: wrong.clone(), ..attempt(ProgrammingOutcome::Failed, "145") };
    let view = work.programming_report(&job, &right).unwrap();
    assert_eq!(view.programming.attempts[0].corrected_by, 2);
    assert_eq!(
        (view.programming.attempts[1].corrects, view.programming.attempts[1].quoted.as_str()),
        (1, "14500")
    );
    assert_eq!(view.programming.cost.unwrap().billed, "14500");
    assert_eq!(Shop::code(work.programming_report(&job, &right)), "attempt_already_corrected");
    let unknown = ProgrammedEntry { corrects: "0".repeat(64), ..right };
    assert_eq!(Shop::code(work.programming_report(&job, &unknown)), "unknown_choice");
    let no_record = ProgrammedEntry { corrects: "🙂".into(), ..unknown };
    assert_eq!(Shop::code(work.programming_report(&job, &no_record)), "unknown_choice");
}

#[test]
fn a_quote_for_the_job_replaces_the_assumed_price_and_says_so() {
    let shop = Shop::open();
    let job = shop.measuring();
    let remote = ProgrammingRoute::RemoteService;
    let before = shop.workshop.job_view(&job).unwrap();
    let assumed = number(&route(&before, remote).numbers, "cash").clone();
    assert_eq!((assumed.value.as_str(), assumed.source.as_str()), ("14500", "judgment"));
    let keep = |quoted: &str| {
        shop.workshop.programming_quote_keep(&job, &QuoteEntry { route: remote, quoted: quoted.into() })
    };
    let view = keep("245").unwrap();
    let quoted = number(&route(&view, remote).numbers, "cash");
    assert_eq!((quoted.value.as_str(), quoted.source.as_str()), ("24500", "quote"));
    // The first attempt is paid in any case: what it costs more, the average costs more.
    let cost = |view: &JobView| route(view, remote).expected_cost.parse::<i64>().unwrap();
    assert_eq!(cost(&view) - cost(&before), 10_000);
    assert_eq!(view.records, before.records, "a quote is no record before something is decided");
    for (bad, code) in [
        ("-1", "amount_below_zero"),
        ("NaN", "amount_unreadable"),
        ("1e9", "amount_unreadable"),
        ("1000000000", "amount_over_limit"),
        ("🙂", "amount_unreadable"),
    ] {
        let error = api::ErrorView::from(keep(bad).unwrap_err());
        assert_eq!((error.code.as_str(), error.values["place"].as_str()), (code, "quoted"), "{bad}");
    }
    assert_eq!(
        route(&shop.workshop.job_view(&job).unwrap(), remote).quote,
        "245.00",
        "what was refused changed nothing"
    );
    let decided = shop.workshop.programming_decide(&job, &decision(remote, "")).unwrap();
    assert_eq!(
        decided.programming.decision.unwrap().quoted,
        "24500",
        "the quote that was typed is the one decided on"
    );
    let again = shop.workshop.programming_decide(&job, &decision(remote, "199")).unwrap();
    assert_eq!(
        number(&route(&again, remote).numbers, "cash").value,
        "19900",
        "what was decided is the quote from then on"
    );
    let taken_back = keep("").unwrap();
    assert_eq!(number(&route(&taken_back, remote).numbers, "cash").source, "judgment");
}

#[test]
fn the_shops_own_numbers_stand_in_for_judgments_and_bad_ones_name_their_field() {
    let shop = Shop::open();
    let job = shop.measuring();
    for (place, typed) in [
        ("remote_service/cash", "99,50"),
        ("remote_service/cash_retry", "0"),
        ("remote_service/labor_hours", "0.5"),
        ("remote_service/wait", "2"),
        ("remote_service/wait_retry", "24"),
        ("remote_service/success", "100"),
        ("remote_service/provider", "Ostrava Remote Coding"),
        ("own_tool/available", "no"),
        ("module", "450"),
    ] {
        assert_eq!(set(&shop, place, typed), "kept", "{place}");
    }
    let view = shop.workshop.job_view(&job).unwrap();
    let remote = route(&view, ProgrammingRoute::RemoteService);
    let shown = |name: &str| {
        let n = number(&remote.numbers, name);
        (n.value.clone(), n.source.clone())
    };
    let setting = |value: &str| (value.to_owned(), "setting".to_owned());
    assert_eq!(shown("cash"), setting("9950"));
    assert_eq!(
        (shown("labor_hours"), shown("wait"), shown("wait_retry")),
        (setting("0.5"), setting("2"), setting("24"))
    );
    assert_eq!(shown("loss"), setting("45000"));
    // Nothing is certain: "always" is said as 999 of 1,000.
    assert_eq!(shown("success"), setting("99.9"));
    assert_eq!(remote.provider, "Ostrava Remote Coding");
    assert_eq!(view.programming.left_out, [ProgrammingRoute::OwnTool]);
    assert_eq!(view.programming.routes.len(), 2);

    for (place, typed, code) in [
        ("remote_service/cash", "-5", "amount_below_zero"),
        ("remote_service/cash", "1e9", "amount_unreadable"),
        ("remote_service/cash", "1000000000", "amount_over_limit"),
        ("remote_service/labor_hours", "NaN", "amount_unreadable"),
        ("remote_service/wait", "1001", "amount_over_limit"),
        ("remote_service/wait_retry", "-0.5", "amount_below_zero"),
        ("remote_service/success", "101", "money_refused"),
        ("remote_service/success", "101 %", "money_refused"),
        ("remote_service/success", "-1", "amount_below_zero"),
        ("module", "🙂", "amount_unreadable"),
        ("module", "99/99/2099", "amount_unreadable"),
        ("own_tool/available", "maybe", "unknown_choice"),
        ("own_tool/color", "red", "unknown_choice"),
        ("elsewhere/cash", "1", "unknown_choice"),
    ] {
        let entry = SettingEntry { place: place.into(), typed: typed.into() };
        let error = api::ErrorView::from(shop.workshop.programming_setting_keep(&entry).unwrap_err());
        assert_eq!((error.code.as_str(), error.values["place"].as_str()), (code, place), "{typed}");
    }
    assert_eq!(set(&shop, "remote_service/cash", ""), "kept");
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!(number(&route(&view, ProgrammingRoute::RemoteService).numbers, "cash").source, "judgment");
}

/// Closes a job in which programming on the own tool ended like this.
pub fn close(shop: &Shop, outcomes: &[ProgrammingOutcome]) -> String {
    let job = approved(shop);
    shop.workshop.programming_decide(&job, &decision(ProgrammingRoute::OwnTool, "40")).unwrap();
    for outcome in outcomes {
        shop.workshop.programming_report(&job, &attempt(*outcome, "40")).unwrap();
    }
    shop.workshop.invoice_keep(&job, &lines(vec![line("labour", "10")])).unwrap();
    let over = HandOverEntry::default();
    shop.workshop.hand_over(&job, &over).unwrap();
    job
}

#[test]
fn closed_jobs_of_the_shop_move_its_own_success() {
    let mut shop = Shop::open();
    let first = close(&shop, &[ProgrammingOutcome::Failed, ProgrammingOutcome::Succeeded]);
    close(&shop, &[ProgrammingOutcome::ModuleLost]);
    let open = approved(&shop);
    shop.workshop.programming_decide(&open, &decision(ProgrammingRoute::OwnTool, "40")).unwrap();
    shop.workshop.programming_report(&open, &attempt(ProgrammingOutcome::Failed, "40")).unwrap();
    let job = shop.measuring();
    let check = |shop: &Shop| {
        let view = shop.workshop.job_view(&job).unwrap();
        let success = number(&route(&view, ProgrammingRoute::OwnTool).numbers, "success").clone();
        // Judged 88 % is 22 of 25; one success and two failures were seen: 23 of 28. A job that goes on counts nowhere.
        assert_eq!((success.value.as_str(), success.source.as_str(), success.jobs), ("82.142", "jobs", 2));
        let own = shop.workshop.job_view(&first).unwrap();
        let success = number(&route(&own, ProgrammingRoute::OwnTool).numbers, "success").clone();
        assert_eq!(
            (success.value.as_str(), success.jobs),
            ("84.615", 1),
            "a job doesn't vouch for itself: 22 of 26"
        );
    };
    check(&shop);
    shop.reopen_after(|_| ());
    check(&shop);
    // Rows of an older version remember nothing of attempts: they are made anew from the records.
    shop.reopen_after(|folder| {
        let database = rusqlite::Connection::open(folder.join("testimeter.sqlite")).unwrap();
        let changed =
            database.execute("UPDATE jobs SET cache = CAST('{\"proven\":null}' AS BLOB)", []).unwrap();
        assert_eq!(changed, 4);
    });
    check(&shop);
}

/// Simpson's rule over the Beta density, 4,000 intervals: another way to the same average.
#[test]
fn what_is_shown_of_a_route_is_the_average_over_what_is_known_of_it() {
    let planned = job::routes::planned(
        ProgrammingRoute::OwnTool,
        &Default::default(),
        job::routes::RouteHistory { successes: 3, failures: 2, jobs: 4, ..Default::default() },
        None,
        job::routes::Sourced { value: money::Cents(60_000), source: job::routes::Source::Judgment },
    )
    .unwrap();
    let SuccessBelief { assumed_successes, assumed_failures, successes, failures } = planned.belief;
    assert_eq!((assumed_successes, assumed_failures, successes, failures), (22, 3, 3, 2));
    let rates = job::routes::rates(money::Cents(12_500));
    let (mut top, mut bottom) = (0.0, 0.0);
    for node in 0..=4_000 {
        let p = f64::from(node) / 4_000.0;
        let simpson = if node == 0 || node == 4_000 { 1.0 } else { f64::from(2 + 2 * (node % 2)) };
        let weight = simpson * p.powi(24) * (1.0 - p).powi(4);
        top += weight * expected_at(&planned.route, &rates, p).unwrap().cost;
        bottom += weight;
    }
    let shown = planned.belief.expected(&planned.route, &rates).unwrap();
    assert!((shown.cost - top / bottom).abs() < 1e-6, "{} against {}", shown.cost, top / bottom);
    let cases = planned.belief.cost_cases(&planned.route, &rates).unwrap();
    let sum: f64 = cases.cases.iter().map(|case| case.probability * case.average).sum();
    assert!((sum - shown.cost).abs() < 1e-9, "the cases average to what is shown");
    let all: f64 = cases.cases.iter().map(|case| case.probability).sum();
    assert!((all - 1.0).abs() < 1e-12);
}

#[test]
fn only_a_modules_price_counts_as_what_a_lost_one_costs() {
    let shop = Shop::open();
    let job = shop.measuring();
    let work = &shop.workshop;
    let loss = |view: &JobView| {
        let loss = number(&route(view, ProgrammingRoute::OwnTool).numbers, "loss");
        (loss.value.clone(), loss.source.clone())
    };
    let is = |cents: &str, source: &str| (cents.to_owned(), source.to_owned());
    let module = work.job_view(&job).unwrap().programming.modules[0].clone();
    let name = module.name.en;
    assert_eq!(loss(&work.job_view(&job).unwrap()), is("60000", "judgment"));
    let typed = BuyPriceEntry { part: "389.50".into(), programming: String::new() };
    assert_eq!(loss(&work.buy_price_keep(&job, &typed).unwrap()), is("38950", "typed"));

    work.reading_keep(&job, &reading("0.02", "V")).unwrap();
    work.finding_keep(&job, &not_proven()).unwrap();
    let named =
        |description: &str, price: &str| LineEntry { description: description.into(), ..line("part", price) };
    let pigtail = named(&format!("{name} connector"), "22");
    let spanish = named(&format!("Conector del {}", module.name.es), "22");
    let asked = lines(vec![named("Relay", "18.40"), pigtail, spanish]);
    work.estimate_keep(&job, &asked).unwrap();
    let view = work.approval_keep(&job, &approval(1)).unwrap();
    assert_eq!(loss(&view), is("38950", "typed"), "neither a relay nor a connector is a module");
    let asked = lines(vec![named("Relay", "18.40"), named(&format!("Rebuilt {name} (exchange)"), "412.00")]);
    let view = work.estimate_keep(&job, &asked).unwrap();
    assert_eq!(loss(&view), is("38950", "typed"), "nobody approved it yet");
    let view = work.approval_keep(&job, &approval(2)).unwrap();
    assert_eq!(loss(&view), is("41200", "estimate"));

    let photos = vec![shop.photo(&job, PhotoPurpose::Part).sha256];
    let part = |description: &str, price: &str, module: &str| PartEntry {
        supplier: "Tarn Parts".into(),
        part_number: "T-1".into(),
        description: description.into(),
        condition: of_code("new"),
        price: price.into(),
        core_charge: String::new(),
        return_terms: String::new(),
        warranty: String::new(),
        photos: photos.clone(),
        module: module.into(),
    };
    let view = work.part_receive(&job, &part("Relay", "17", "")).unwrap();
    assert_eq!(loss(&view), is("41200", "estimate"), "the part received last is a relay");
    assert_eq!(Shop::code(work.part_receive(&job, &part("Unit", "399", "nowhere"))), "unknown_choice");
    let view = work.part_receive(&job, &part("Unit", "399", &module.module)).unwrap();
    assert_eq!(loss(&view), is("39900", "received"));
    assert_eq!(loss(&work.part_receive(&job, &part("Fuse", "2", "")).unwrap()), is("39900", "received"));
}

/// The median as Python's `statistics.median` has it (library reference, "statistics").
#[test]
fn a_route_costs_what_the_shops_own_jobs_were_billed() {
    let shop = Shop::open();
    let closed = |bills: &[&str], hours: &str| {
        let job = shop.measuring();
        let work = lines(vec![LineEntry {
            description: "Program the module".into(),
            quantity: hours.into(),
            ..line("programming", "100")
        }]);
        let disclosed = LineEntry { provider: "Lumen Remote".into(), ..line("sublet", "1") };
        let work = LinesEntry { lines: [work.lines, vec![disclosed]].concat() };
        shop.workshop.estimate_keep(&job, &work).unwrap();
        shop.workshop.approval_keep(&job, &approval(1)).unwrap();
        shop.workshop.programming_decide(&job, &decision(ProgrammingRoute::RemoteService, "145")).unwrap();
        for bill in bills {
            shop.workshop.programming_report(&job, &attempt(ProgrammingOutcome::Succeeded, bill)).unwrap();
        }
        shop.workshop.invoice_keep(&job, &work).unwrap();
        let over = HandOverEntry::default();
        shop.workshop.hand_over(&job, &over).unwrap();
    };
    let job = shop.measuring();
    let seen = |name: &str| {
        let view = shop.workshop.job_view(&job).unwrap();
        let number = number(&route(&view, ProgrammingRoute::RemoteService).numbers, name).clone();
        (number.value, number.source, number.jobs)
    };
    let is = |value: &str, source: &str, jobs: u32| (value.to_owned(), source.to_owned(), jobs);
    assert_eq!((seen("cash"), seen("labor_hours")), (is("14500", "judgment", 0), is("0.75", "judgment", 0)));
    closed(&["195"], "1");
    assert_eq!((seen("cash"), seen("labor_hours")), (is("19500", "jobs", 1), is("1", "jobs", 1)));
    // A second attempt's bill is another price; its hours are shared out.
    closed(&["155", "40"], "3");
    assert_eq!((seen("cash"), seen("labor_hours")), (is("17500", "jobs", 2), is("1.25", "jobs", 2)));
    closed(&["999"], "0.5");
    closed(&[""], "0.25");
    assert_eq!((seen("cash"), seen("labor_hours")), (is("19500", "jobs", 3), is("0.75", "jobs", 4)));
    // What the shop set, and a quote for the job, stand above what was seen.
    assert_eq!(set(&shop, "remote_service/cash", "150"), "kept");
    assert_eq!(seen("cash"), is("15000", "setting", 0));
    shop.workshop
        .programming_quote_keep(
            &job,
            &QuoteEntry { route: ProgrammingRoute::RemoteService, quoted: "160".into() },
        )
        .unwrap();
    assert_eq!(seen("cash"), is("16000", "quote", 0));
}
