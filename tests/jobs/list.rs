//! The list of jobs: whose turn it is, how far the work is, and what a search finds. Then the steps of one job.

use crate::shop::*;
use api::entry::*;
use api::view::{JobView, StepView};

fn numbers(shop: &Shop, filter: &str, query: &str) -> Vec<u32> {
    let asked = JobsEntry { filter: filter.into(), ..JobsEntry::of(query) };
    shop.workshop.jobs_search(&asked).unwrap().rows.into_iter().map(|row| row.number).collect()
}

fn waits(view: &JobView) -> Vec<&str> {
    view.waiting.iter().map(|wait| wait.what.as_str()).collect()
}

fn step<'a>(view: &'a JobView, name: &str) -> &'a StepView {
    view.steps.iter().find(|step| step.step == name).unwrap()
}

#[test]
fn a_job_waits_for_the_customer_then_for_its_part_then_for_nothing() {
    let shop = Shop::open();
    let job = shop.measuring();
    shop.job();
    let taken = shop.workshop.reading_keep(&job, &reading("0.02", "V")).unwrap();
    assert_eq!((waits(&taken), taken.next.step.as_str()), (vec![], "reading"));
    let next = &taken.diagnosis.as_ref().unwrap().next_step;
    assert_eq!(taken.next.test, next.test, "the button leads to the test that the diagnosis names");

    let found = shop.workshop.finding_keep(&job, &not_proven()).unwrap();
    assert_eq!(found.next.step, "estimate");
    let asked = lines(vec![line("labour", "100"), line("part", "80")]);
    let estimate = shop.workshop.estimate_keep(&job, &asked).unwrap();
    assert_eq!((waits(&estimate), estimate.next.step.as_str()), (vec!["customer"], "approval"));
    assert_eq!(step(&estimate, "approval").state, "waits");
    assert_eq!(step(&estimate, "part").state, "refused");
    assert_eq!(
        (numbers(&shop, "waiting_customer", ""), numbers(&shop, "waiting_part", "")),
        (vec![1], vec![])
    );

    let approved = shop.workshop.approval_keep(&job, &approval(1)).unwrap();
    assert_eq!((waits(&approved), approved.next.step.as_str()), (vec!["part"], "part"));
    assert_eq!(
        (numbers(&shop, "waiting_customer", ""), numbers(&shop, "waiting_part", "")),
        (vec![], vec![1])
    );
    assert_eq!(
        (numbers(&shop, "stage_approved", ""), numbers(&shop, "stage_intake", "")),
        (vec![1], vec![2])
    );

    let photos = vec![shop.photo(&job, PhotoPurpose::Part).sha256];
    let part = PartEntry {
        supplier: "Tarn Parts".into(),
        part_number: "T-1".into(),
        description: "Relay".into(),
        condition: of_code("new"),
        price: "60".into(),
        core_charge: String::new(),
        return_terms: String::new(),
        warranty: String::new(),
        photos,
        module: String::new(),
    };
    let received = shop.workshop.part_receive(&job, &part).unwrap();
    assert_eq!((waits(&received), received.next.step.as_str()), (vec![], "reading"), "the fix is measured");
    assert_eq!(step(&received, "part").state, "done");
    assert!(numbers(&shop, "waiting_part", "").is_empty());
}

#[test]
fn a_job_waits_for_its_appointment_until_the_outcome_is_on_record() {
    let shop = Shop::open();
    let job = shop.measuring();
    let decided = ProgrammingEntry {
        route: Some(ProgrammingRoute::RemoteService),
        provider: "Lumen Remote".into(),
        quoted: "120".into(),
        appointment: "2026-10-19T10:30".into(),
        reason: String::new(),
    };
    let view = shop.workshop.programming_decide(&job, &decided).unwrap();
    let wait = &view.waiting[0];
    assert_eq!(
        (wait.what.as_str(), wait.due.as_str(), wait.whom.as_str()),
        ("appointment", "2026-10-19T10:30:00-05:00", "Lumen Remote")
    );
    assert_eq!(
        (numbers(&shop, "waiting_appointment", ""), step(&view, "programming").state.as_str()),
        (vec![1], "waits")
    );
    let reported = ProgrammedEntry {
        outcome: ProgrammingOutcome::Failed,
        supply_volts: String::new(),
        supply_confirmed: false,
        software_before: String::new(),
        software_after: String::new(),
        billed: "120".into(),
        photos: vec![],
        corrects: String::new(),
        checks: vec![],
        voltages: String::new(),
        window_lowest: String::new(),
        window_highest: String::new(),
    };
    let view = shop.workshop.programming_report(&job, &reported).unwrap();
    assert!(waits(&view).is_empty());
    let again = shop.workshop.programming_decide(&job, &decided).unwrap();
    assert_eq!(waits(&again), ["appointment"], "it is tried again");
}

#[test]
fn a_job_is_found_by_phone_codes_and_whoever_may_approve() {
    let shop = Shop::open();
    let job = shop.job().job;
    let entry = IntakeEntry {
        phone: Some("(512) 555-0142".into()),
        approver_name: Some("Wim Brandt".into()),
        approver_phone: Some("5125550143".into()),
        fault_codes: Some(vec![FaultCodeEntry { code: "u0100-87".into(), ..Default::default() }]),
        ..Default::default()
    };
    shop.workshop.intake_keep(&job, &entry).unwrap();
    for typed in [
        "5125550142",
        "512-555-0142",
        "+1 512 555 0142",
        "512 555 0143",
        "wim",
        "u0100",
        "U0100-87",
        "u010087",
    ] {
        assert_eq!(numbers(&shop, "stage_intake", typed), [1], "{typed}");
    }
    assert!(numbers(&shop, "stage_intake", "512 555 0199").is_empty());
    let unknown = JobsEntry { filter: "stage_lost".into(), ..Default::default() };
    assert_eq!(Shop::code(shop.workshop.jobs_search(&unknown)), "unknown_choice");
}

#[test]
fn during_check_in_the_complaint_comes_first_then_the_circuit() {
    let shop = Shop::open();
    let opened = shop.job();
    assert_eq!(opened.next.step, "intake");
    let entry = IntakeEntry { complaint: Some("It hums.".into()), ..Default::default() };
    let told = shop.workshop.intake_keep(&opened.job, &entry).unwrap();
    assert_eq!(told.next.step, "circuit");
    assert_eq!(
        (step(&told, "intake").state.as_str(), step(&told, "invoice").state.as_str()),
        ("done", "refused")
    );
    shop.workshop.meter_choose(&opened.job, &meter()).unwrap();
    let measuring = shop.workshop.circuit_choose(&opened.job, "relay_high_side").unwrap();
    assert_eq!(measuring.next.step, "reading");
    assert!(!measuring.next.test.is_empty());
}
