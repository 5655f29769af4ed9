//! The one door for change: what it refuses leaves nothing behind, two actions at once never both pass, and a record that
//! an older version should not have sealed shuts nothing.

use crate::shop::*;
use api::entry::*;
use api::{ApiError, Workshop};
use job::Event;
use job::event::PartReceived;
use money::Cents;
use std::path::Path;
use store::{AppendRequest, OpenOptions, Store};

fn labor(price: &str) -> LinesEntry {
    LinesEntry { lines: vec![line("labour", price)] }
}

/// A job with a finding and an approved estimate.
pub fn approved(shop: &Shop) -> String {
    let job = shop.measuring();
    shop.workshop.reading_keep(&job, &reading("0.02", "V")).unwrap();
    shop.workshop.finding_keep(&job, &not_proven()).unwrap();
    shop.workshop.estimate_keep(&job, &labor("90")).unwrap();
    shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    job
}

fn part(shop: &Shop, job: &str, price: &str) -> PartEntry {
    PartEntry {
        supplier: "Fennrow Parts".into(),
        part_number: "FR-1".into(),
        description: "Relay".into(),
        condition: Condition::New,
        price: price.into(),
        core_charge: String::new(),
        return_terms: String::new(),
        warranty: String::new(),
        photos: vec![shop.photo(job, PhotoPurpose::Part).sha256],
        module: String::new(),
    }
}

/// Appends with the signature of the shop's own key, past every rule.
fn append_signed(store: &Store, log: &evidence::LogId, sealed: &evidence::Sealed) {
    let key = store.device_key().unwrap().unwrap().key;
    let signature = key.sign_bytes(store.next_head(log, sealed.leaf).unwrap().text().as_bytes());
    store.append(&AppendRequest::new(log, sealed, signature)).unwrap();
}

/// What an older version did: the record is sealed and appended without a question.
pub fn seal_unasked(folder: &Path, job: &str, event: &Event) {
    let store = Store::open(folder, &OpenOptions::default()).unwrap();
    let log = store.logs(job).unwrap().remove(0);
    let parts = event.parts().unwrap();
    let photos = event.photos().into_iter().map(|sha256| {
        let bytes = store.original(&sha256).unwrap().len() as u64;
        evidence::PhotoRef { sha256, bytes, media_type: "image/jpeg".into() }
    });
    let moment =
        evidence::Moment { wall: "2026-10-12T09:00:00.000-05:00".into(), boot: "boot".into(), elapsed_ms: 1 };
    let new = evidence::NewRecord {
        kind: parts.kind,
        moment,
        others: store.other_heads(&log).unwrap(),
        photos: photos.collect(),
        body: parts.body,
        withheld: parts.withheld,
    };
    let sealed = evidence::seal(&log, &store.head(&log).unwrap(), new, &mut || [7; 16]).unwrap();
    append_signed(&store, &log, &sealed);
}

#[test]
fn an_amount_below_zero_is_refused_and_nothing_is_sealed() {
    let shop = Shop::open();
    let job = approved(&shop);
    let records = shop.workshop.job_view(&job).unwrap().records;
    let bad = part(&shop, &job, "-5.00");
    assert_eq!(Shop::code(shop.workshop.part_receive(&job, &bad)), "amount_below_zero");
    let core = PartEntry { core_charge: "-1".into(), price: "5".into(), ..bad };
    assert_eq!(Shop::code(shop.workshop.part_receive(&job, &core)), "amount_below_zero");
    let decided = ProgrammingEntry {
        route: Some(ProgrammingRoute::OwnTool),
        provider: String::new(),
        quoted: "-0.01".into(),
        appointment: String::new(),
        reason: String::new(),
    };
    assert_eq!(Shop::code(shop.workshop.programming_decide(&job, &decided)), "amount_below_zero");
    let decided = ProgrammingEntry { quoted: "99999999.00".into(), ..decided };
    assert_eq!(Shop::code(shop.workshop.programming_decide(&job, &decided)), "amount_over_limit");
    let decided = ProgrammingEntry { quoted: "40".into(), ..decided };
    shop.workshop.programming_decide(&job, &decided).unwrap();
    let reported = ProgrammedEntry {
        outcome: ProgrammingOutcome::Succeeded,
        supply_volts: String::new(),
        supply_confirmed: false,
        software_before: String::new(),
        software_after: String::new(),
        billed: "-900".into(),
        photos: vec![],
        corrects: String::new(),
        checks: vec![],
        voltages: String::new(),
        window_lowest: String::new(),
        window_highest: String::new(),
    };
    assert_eq!(Shop::code(shop.workshop.programming_report(&job, &reported)), "amount_below_zero");
    assert_eq!(Shop::code(shop.workshop.invoice_keep(&job, &labor("-900"))), "amount_below_zero");
    // The photo of the part and the decision; nothing of what was refused.
    assert_eq!(shop.workshop.job_view(&job).unwrap().records, records + 2);
}

#[test]
fn a_job_bricked_by_an_older_version_opens_again() {
    let mut shop = Shop::open();
    let job = approved(&shop);
    let photo = shop.photo(&job, PhotoPurpose::Part).sha256;
    let bad = Event::PartReceived(PartReceived {
        supplier: "Fennrow Parts".into(),
        part_number: "FR-1".into(),
        description: "Relay".into(),
        condition: Condition::New,
        price: Cents(-500),
        core_charge: Cents(0),
        return_terms: String::new(),
        warranty: String::new(),
        photos: vec![photo.parse().unwrap()],
        module: String::new(),
    });
    shop.reopen_after(|folder| seal_unasked(folder, &job, &bad));
    let view = shop.workshop.job_view(&job).unwrap();
    assert!(view.parts.is_empty(), "the part with a price below zero counts nowhere");
    let notice = view.notices.iter().find(|notice| notice.code == "record_unusable").unwrap();
    assert_eq!(notice.values["kind"], "part_received");
    let entry = view.timeline.last().unwrap();
    assert_eq!(entry.doubts, ["record_unusable"], "the time-line shows it as such");
    assert_eq!(view.programming.routes.len(), 3, "routes are weighed as before");
    shop.workshop.part_receive(&job, &part(&shop, &job, "18.40")).unwrap();
    shop.workshop.report_write(&job, &ReportEntry::full("en", Recipient::Customer)).unwrap();
    let verdict = shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
    shop.workshop.open_export().unwrap();
}

/// A core credit larger than the rest was taken once. It still counts, and no version of an estimate is given twice.
#[test]
fn an_estimate_below_nothing_from_an_older_version_still_counts() {
    let mut shop = Shop::open();
    let job = shop.measuring();
    let credit =
        money::Line::new(money::LineKind::CoreCredit, "Old module back", "1".parse().unwrap(), Cents(-500));
    let estimate = money::Estimate {
        version: 1,
        lines: vec![credit],
        tax_rate: money::TaxRate::from_parts(0).unwrap(),
        tax_basis: money::TaxBasis::Invoice,
        tax_included: false,
    };
    let totals = money::totals(&estimate.lines, estimate.tax_rate, estimate.tax_basis).unwrap();
    let event = Event::EstimateKept(job::event::EstimateKept { estimate, totals });
    assert!(event.admissible().is_err(), "it is not taken any more");
    shop.reopen_after(|folder| seal_unasked(folder, &job, &event));
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!((view.estimates.len(), view.notices.len()), (1, 0));
    let view = shop.workshop.estimate_keep(&job, &labor("90")).unwrap();
    assert_eq!(view.estimates.last().unwrap().version, 2);
}

#[test]
fn a_kind_of_record_from_a_newer_version_shuts_nothing() {
    let mut shop = Shop::open();
    let job = approved(&shop);
    let store_job = job.clone();
    shop.reopen_after(|folder| {
        let store = Store::open(folder, &OpenOptions::default()).unwrap();
        let log = store.logs(&store_job).unwrap().remove(0);
        let new = evidence::NewRecord {
            kind: "oscilloscope_kept".into(),
            moment: evidence::Moment {
                wall: "2026-10-12T09:00:00.000-05:00".into(),
                boot: "boot".into(),
                elapsed_ms: 1,
            },
            others: store.other_heads(&log).unwrap(),
            photos: vec![],
            body: serde_json::json!({ "samples": "12" }),
            withheld: vec![],
        };
        let sealed = evidence::seal(&log, &store.head(&log).unwrap(), new, &mut || [7; 16]).unwrap();
        append_signed(&store, &log, &sealed);
    });
    let view = shop.workshop.job_view(&job).unwrap();
    assert_eq!(view.timeline.last().unwrap().kind, "oscilloscope_kept");
    assert_eq!(view.approvals.len(), 1);
    let verdict = shop.workshop.packet_write(&job, &PacketEntry::preset("en", Recipient::Customer)).unwrap();
    assert!(verdict.good, "{:?}", verdict.problems);
}

#[test]
fn a_form_filled_in_on_an_older_state_is_refused_and_loses_nothing() {
    let shop = Shop::open();
    let job = shop.measuring();
    let view = shop.workshop.reading_keep(&job, &reading("0.02", "V")).unwrap();
    let form = Form { job: job.clone(), draft: "finding".into(), records: Some(view.records) };
    shop.workshop.draft_keep(&job, "finding", "half typed").unwrap();
    shop.workshop.reading_keep(&job, &reading("12.4", "V")).unwrap();
    assert_eq!(Shop::code(shop.workshop.finding_keep(form.clone(), &not_proven())), "job_moved");
    assert_eq!(shop.workshop.draft_view(&job, "finding").unwrap(), "half typed");
    let records = Some(shop.workshop.job_view(&job).unwrap().records);
    shop.workshop.finding_keep(Form { records, ..form }, &not_proven()).unwrap();
    assert_eq!(shop.workshop.draft_view(&job, "finding").unwrap(), "", "the record settled its draft");
}

/// Runs the two at the same moment; says how many were kept.
pub fn at_once(
    workshop: &Workshop,
    one: impl Fn(&Workshop) -> Result<api::view::JobView, ApiError> + Sync,
    other: impl Fn(&Workshop) -> Result<api::view::JobView, ApiError> + Sync,
) -> usize {
    let start = std::sync::Barrier::new(2);
    std::thread::scope(|threads| {
        let one = threads.spawn(|| {
            start.wait();
            one(workshop).is_ok()
        });
        let other = threads.spawn(|| {
            start.wait();
            other(workshop).is_ok()
        });
        usize::from(one.join().unwrap()) + usize::from(other.join().unwrap())
    })
}

/// Sixty pairs that contradict each other, two hundred with the full counts: a reading corrected twice, a version approved twice, a finding on readings
/// that changed, an invoice on an estimate that changed.
#[test]
fn of_two_conflicting_actions_at_once_never_both_pass() {
    let shop = Shop::open();
    let rounds = if std::env::var_os("TESTIMETER_FULL").is_some() { 50 } else { 15 };
    for round in 0..rounds {
        let job = shop.measuring();
        let workshop = &shop.workshop;
        let first = workshop.reading_keep(&job, &reading("0.02", "V")).unwrap().readings[0].record.clone();
        let correct = |reason: &'static str| {
            let (job, corrects) = (job.clone(), first.clone());
            move |workshop: &Workshop| {
                let entry = CorrectionEntry {
                    corrects: corrects.clone(),
                    reason: reason.into(),
                    reading: reading("0.03", "V"),
                };
                workshop.reading_correct(&job, &entry)
            }
        };
        assert_eq!(
            at_once(workshop, correct("decimal point"), correct("wrong pin")),
            1,
            "{round}: corrections"
        );

        let moved = Form {
            job: job.clone(),
            records: Some(workshop.job_view(&job).unwrap().records),
            ..Form::default()
        };
        let finding = |workshop: &Workshop| workshop.finding_keep(moved.clone(), &not_proven());
        let measured = |workshop: &Workshop| {
            let form = moved.clone();
            workshop.reading_keep(form, &reading("12.4", "V"))
        };
        assert_eq!(at_once(workshop, finding, measured), 1, "{round}: a finding and a reading");

        workshop.estimate_keep(&job, &labor("90")).unwrap();
        let approve = |workshop: &Workshop| workshop.approval_keep(&job, &approval(1));
        assert_eq!(at_once(workshop, approve, approve), 1, "{round}: approvals");

        let records = Some(workshop.job_view(&job).unwrap().records);
        let form = Form { job: job.clone(), records, ..Form::default() };
        let bill = |workshop: &Workshop| workshop.invoice_keep(form.clone(), &labor("90"));
        let raise = |workshop: &Workshop| workshop.estimate_keep(form.clone(), &labor("150"));
        assert_eq!(at_once(workshop, bill, raise), 1, "{round}: an invoice and an estimate");
    }
}

/// A reading taken back from two hands is taken back once; marks that are the same are sealed once, and so is a check-in.
#[test]
fn of_two_same_actions_at_once_one_is_sealed() {
    let shop = Shop::open();
    let workshop = &shop.workshop;
    for round in 0..10 {
        let job = shop.measuring();
        let corrects = workshop.reading_keep(&job, &reading("0.02", "V")).unwrap().readings[0].record.clone();
        let undo = WithdrawalEntry { corrects, reason: "undone".into() };
        let withdraw = |workshop: &Workshop| workshop.reading_withdraw(&job, &undo);
        assert_eq!(at_once(workshop, withdraw, withdraw), 1, "{round}: undo");

        let arrow = MarkEntry {
            shape: MarkShape::Arrow,
            tone: MarkTone::Cold,
            x: 100,
            y: 100,
            to_x: 500,
            to_y: 500,
            text: String::new(),
        };
        let photo = shop.photo(&job, PhotoPurpose::Part).sha256;
        let marks = MarksEntry { photo, marks: vec![arrow] };
        let mark = |workshop: &Workshop| workshop.photo_mark(&job, &marks);
        assert_eq!(at_once(workshop, mark, mark), 1, "{round}: marks");

        let before = workshop.job_view(&job).unwrap().records;
        let limit = IntakeEntry { approver_limit: Some("600".into()), ..IntakeEntry::default() };
        let check_in = |workshop: &Workshop| workshop.intake_keep(&job, &limit);
        assert_eq!(at_once(workshop, check_in, check_in), 2, "{round}: the same said twice is no refusal");
        assert_eq!(workshop.job_view(&job).unwrap().records, before + 1, "{round}: nor a second record");
    }
}

#[test]
fn a_meter_list_of_many_jobs_names_each_meter_once() {
    let shop = Shop::open();
    let ordinary = shop.workshop.meters().unwrap().remove(0);
    for name in ["bench meter", &ordinary.name, "bench meter", "clamp", &ordinary.name] {
        let job = shop.job().job;
        shop.workshop.meter_choose(&job, &MeterEntry { name: name.into(), ..meter() }).unwrap();
        let meters = shop.workshop.meters().unwrap();
        let mut names: Vec<&str> = meters.iter().map(|meter| meter.name.as_str()).collect();
        assert_eq!(names[0], name, "the one used last stands first");
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), meters.len());
    }
    assert_eq!(shop.workshop.meters().unwrap().len(), 3);
}

#[test]
fn the_list_pages_through_more_jobs_than_a_screen_holds() {
    let shop = Shop::open();
    for _ in 0..120 {
        shop.job();
    }
    let page = |after: &str| {
        shop.workshop.jobs_search(&JobsEntry { after: after.to_owned(), ..JobsEntry::default() }).unwrap()
    };
    let first = page("");
    assert_eq!((first.rows.len(), first.left, first.more_than_left), (50, 70, false));
    let second = page(&first.next);
    // What is kept meanwhile comes to the top and leaves no gap behind.
    shop.workshop.meter_choose(&first.rows[20].job, &meter()).unwrap();
    shop.job();
    let third = page(&second.next);
    assert_eq!((third.rows.len(), third.left, third.next.as_str()), (20, 0, ""));
    let numbers: Vec<u32> =
        [first, second, third].into_iter().flat_map(|page| page.rows).map(|row| row.number).collect();
    assert_eq!(numbers, (1..=120).rev().collect::<Vec<u32>>());
    assert_eq!(
        Shop::code(shop.workshop.jobs_search(&JobsEntry { after: "soon".into(), ..JobsEntry::default() })),
        "unknown_choice"
    );
}

#[test]
fn an_unusual_supply_is_asked_about_once() {
    let shop = Shop::open();
    let job = shop.measuring();
    let decided = ProgrammingEntry {
        route: Some(ProgrammingRoute::OwnTool),
        provider: String::new(),
        quoted: String::new(),
        appointment: "2099-99-99T25:77".into(),
        reason: String::new(),
    };
    assert_eq!(Shop::code(shop.workshop.programming_decide(&job, &decided)), "not_a_time");
    let decided = ProgrammingEntry { appointment: "2026-10-19T10:30".into(), ..decided };
    shop.workshop.programming_decide(&job, &decided).unwrap();
    let reported = |volts: &str, supply_confirmed| ProgrammedEntry {
        outcome: ProgrammingOutcome::Failed,
        supply_volts: volts.into(),
        supply_confirmed,
        software_before: String::new(),
        software_after: String::new(),
        billed: String::new(),
        photos: vec![],
        corrects: String::new(),
        checks: vec![],
        voltages: String::new(),
        window_lowest: String::new(),
        window_highest: String::new(),
    };
    let report =
        |volts, confirmed| Shop::code(shop.workshop.programming_report(&job, &reported(volts, confirmed)));
    assert_eq!(report("4.9", false), "control_supply_unusual");
    assert_eq!(report("136", false), "control_supply_unusual");
    assert_eq!(report("4.9", true), "kept");
    assert_eq!(report("13.6", false), "kept");
}
