//! A shop with a job that has come a long way, and one event of every kind for it.

mod papers;

use super::clock;
use crate::Workshop;
use crate::entry::*;
use evidence::Digest;
use job::event::*;
use job::{Event, Job};
use money::ledger::{CostKind, Means};
use money::{Cents, Estimate, Invoice, Line};
use std::path::Path;

/// A shop on an empty folder, with a job that has meter, circuit, reading, finding, estimate, approval and photo.
pub fn shop(folder: &Path) -> (Workshop, String) {
    let workshop = Workshop::open_at(folder, clock()).unwrap();
    let entry = ShopEntry {
        name: "Sable Creek Auto Electric".into(),
        technician: "Imre Valdsson".into(),
        region: "US-CA".into(),
        registration: "DEMO-0042".into(),
        address: "1180 Creek Road, Sandle, CA 90000".into(),
        phone: "555-0100 x2".into(),
        email: "office@sablecreek.example".into(),
        labour_rate: "118.50".into(),
        tax_percent: "7.25".into(),
        keeps_years: String::new(),
        parts_taxed: String::new(),
        labour_taxed: String::new(),
        core_taxed: String::new(),
        tax_number: String::new(),
        invoice_prefix: String::new(),
        credit_prefix: String::new(),
        numbered_apart: false,
    };
    workshop.shop_set_up(&entry).unwrap();
    let job = workshop.job_open().unwrap().job;
    let photo = PhotoEntry { job: job.clone(), purpose: PhotoPurpose::Reading, live: false };
    workshop.photo_keep(&photo, &jpeg()).unwrap();
    let meter = MeterEntry {
        name: "bench meter".into(),
        volts_input_megohms: "10".into(),
        low_impedance_kilohms: String::new(),
        accuracy_percent: "0.5".into(),
        accuracy_counts: "2".into(),
    };
    workshop.meter_choose(&job, &meter).unwrap();
    workshop.circuit_choose(&job, "relay_high_side").unwrap();
    keep(&workshop, &job, Event::ReadingKept(reading("0.02")));
    let not_proven = FindingEntry { words: "Not yet.".into(), cause: String::new(), not_proven: true };
    workshop.finding_keep(&job, &not_proven).unwrap();
    let line = LineEntry {
        kind: LineKind::Labor,
        description: "Harness repair".into(),
        quantity: "1".into(),
        unit_price: "90".into(),
        condition: String::new(),
        part_number: String::new(),
        provider: String::new(),
        taxed: false,
    };
    workshop.estimate_keep(&job, &LinesEntry { lines: vec![line] }).unwrap();
    let sent = ApprovalRequestEntry {
        version: 1,
        channel: Channel::TextMessage,
        language: "en".into(),
        text: "Total 90.00. Reply YES.".into(),
        to: String::new(),
    };
    workshop.approval_request(&job, &sent).unwrap();
    let approval = ApprovalEntry {
        version: 1,
        answers: Vec::new(),
        limit: String::new(),
        name: "Odalys Brandt".into(),
        signer_confirmed: false,
        given_at: String::new(),
        channel: Channel::Phone,
        words: "Go ahead.".into(),
        conditions: String::new(),
        number_called: "555 0142".into(),
        called_by: String::new(),
        old_parts: OldParts::Return,
        signature: String::new(),
        photos: Vec::new(),
    };
    workshop.approval_keep(&job, &approval).unwrap();
    keep(&workshop, &job, Event::ReadingKept(reading("12.44")));
    (workshop, job)
}

/// One event of every kind, as that job would have it next.
pub fn of(workshop: &Workshop, job: &str) -> Vec<Event> {
    let now = workshop.load_from_records(job).unwrap().job;
    let first = now.readings[0].record;
    let repaired = now.readings[1].record;
    let corrected = ReadingCorrected {
        corrects: first,
        reason: "pin".into(),
        note: String::new(),
        reading: reading("0.03"),
        withdrawn: false,
    };
    let mut samples = vec![
        Event::JobOpened(now.opened.clone()),
        Event::IntakeKept(intake()),
        Event::PhotoKept(now.photos.values().next().unwrap().event.clone()),
        Event::MeterChosen(now.meter.clone().unwrap().event),
        Event::CircuitChosen(now.circuit.clone().unwrap().event),
        Event::PinNoted(pin(&now)),
        Event::CautionAcknowledged(CautionAcknowledged { caution: "battery".into() }),
        Event::TestUnreachable(TestUnreachable { test: "control_open".into(), unreachable: true }),
        Event::ReadingKept(ReadingKept { photos: vec![photo(&now)], ..reading("12.40") }),
        Event::ReadingCorrected(corrected),
        Event::FindingKept(now.findings[0].event.clone()),
        Event::FixProven(FixProven { before: first, after: repaired, note: "Road test.".into() }),
    ];
    samples.extend(money(&now));
    samples.extend(papers::papers(&now, workshop));
    samples
}

fn keep(workshop: &Workshop, job: &str, event: Event) {
    workshop.change(&Form::from(job), |_| Ok(Some(event))).unwrap();
}

fn photo(job: &Job) -> Digest {
    *job.photos.keys().next().unwrap()
}

fn jpeg() -> Vec<u8> {
    let mut bytes = std::io::Cursor::new(Vec::new());
    let picture = image::RgbImage::from_fn(96, 64, |x, y| image::Rgb([x as u8, y as u8, 120]));
    picture.write_to(&mut bytes, image::ImageFormat::Jpeg).unwrap();
    bytes.into_inner()
}

fn reading(value: &str) -> ReadingKept {
    let state = [("key", "on"), ("request", "on"), ("relay", "removed"), ("module_connector", "plugged")];
    let library = circuit::library::find("relay_high_side").unwrap();
    let known = |name: &str| library.variables.iter().any(|variable| variable.id == name);
    let usual = library.variables.iter().map(|v| (v.id.clone(), v.default.clone()));
    let set = state.into_iter().filter(|(name, _)| known(name)).take(3);
    let set = set.map(|(name, position)| (name.to_owned(), position.to_owned()));
    ReadingKept {
        test: "control_open".into(),
        value: value.into(),
        unit: Unit::Volt,
        mode: MeterMode::VoltsDc,
        range: String::new(),
        lowest: String::new(),
        highest: String::new(),
        condition: None,
        red: "s86".into(),
        black: "bat_neg".into(),
        red_pin: String::new(),
        black_pin: String::new(),
        state: usual.chain(set).collect(),
        load: String::new(),
        complaint_present: ComplaintPresent::Yes,
        placement: 1,
        note: "As found.".into(),
        photos: vec![],
        seen: None,
    }
}

fn intake() -> IntakeKept {
    IntakeKept {
        plate: Some("DEMO 17".into()),
        make: Some("Arvel".into()),
        model: Some("Tern".into()),
        year: Some("2019".into()),
        odometer: Some("84210".into()),
        odometer_unit: Some(OdometerUnit::Mi),
        complaint: Some("The fan never runs.".into()),
        customer: Some("Odalys Brandt".into()),
        phone: Some("555 0142".into()),
        approver_name: Some("Wim Brandt".into()),
        approver_role: Some("brother".into()),
        approver_phone: Some("555 0143".into()),
        approver_limit: Some("60000".into()),
        fault_codes: Some(vec![FaultCode {
            freeze_frame: vec![FrameLine { name: "Speed".into(), value: "0".into(), unit: "mph".into() }],
            ..FaultCode::read("U0100-87").unwrap()
        }]),
        ..IntakeKept::default()
    }
}

fn pin(job: &Job) -> PinNoted {
    let connector = &job.circuit_file().unwrap().connectors[0];
    PinNoted {
        connector: connector.id.clone(),
        pin: connector.pins[0].number.clone(),
        colour: "RD".into(),
        function: "feed".into(),
        note: "taped".into(),
        in_doubt: true,
        photos: vec![photo(job)],
    }
}

fn money(job: &Job) -> Vec<Event> {
    let estimate = &job.estimates[0];
    let lines: Vec<Line> = estimate.event.estimate.lines.clone();
    let next = Estimate { version: 2, lines: lines.clone(), ..estimate.event.estimate.clone() };
    let (tax_rate, tax_basis, tax_included) = (next.tax_rate, next.tax_basis, next.tax_included);
    let invoice =
        Invoice { number: "1".into(), estimate_version: 1, lines, tax_rate, tax_basis, tax_included };
    let totals = next.totals().unwrap();
    let part = PartReceived {
        supplier: "Fennrow Parts".into(),
        part_number: "FR-1".into(),
        description: "Relay".into(),
        condition: Condition::New,
        price: Cents(1_840),
        core_charge: Cents(0),
        return_terms: "30 days".into(),
        warranty: "2 years".into(),
        photos: vec![photo(job)],
        module: job.circuit_file().unwrap().modules[0].id.clone(),
    };
    let route = WeighedRoute {
        route: ProgrammingRoute::OwnTool,
        expected_cost: Cents(9_000),
        expected_hours: "1.50".into(),
        success: "0.9820".into(),
    };
    let decided = ProgrammingDecided {
        route: ProgrammingRoute::RemoteService,
        provider: "Far Bench Programming".into(),
        quoted: Cents(14_500),
        weighed: vec![route],
        appointment: "2026-10-15T10:05".into(),
        appointment_at: "2026-10-15T10:05:00-05:00".into(),
        reason: "No license.".into(),
    };
    let reported = ProgrammingReported {
        outcome: ProgrammingOutcome::Succeeded,
        supply_volts: "13.6".into(),
        software_before: "A1".into(),
        software_after: "A2".into(),
        billed: Cents(19_500),
        photos: vec![photo(job)],
        corrects: None,
        checks: vec![],
        voltages: vec![],
        window: None,
    };
    let handed_over = HandedOver {
        warranty: "12 months".into(),
        warranty_months: Some(12),
        warranty_distance: Some(12_000),
        odometer: "61250".into(),
        old_parts: "returned".into(),
        photos: vec![photo(job)],
    };
    let credit = CreditNoteKept {
        number: "CN-0001".into(),
        invoice: job.approvals[0].record,
        lines: invoice.lines.clone(),
        tax_rate,
        tax_basis,
        tax_included,
        totals,
        seller_number: "DEMO 7001".into(),
        reason: "Billed twice.".into(),
    };
    let payment = PaymentKept {
        way: PaymentWay::Received,
        means: Means::Check,
        amount: Cents(9_000),
        day: "2026-10-15".into(),
        reference: "check 1042".into(),
        note: "At the counter.".into(),
        photos: vec![photo(job)],
    };
    let step = SupplierStepKept {
        step: SupplierStep::Paid,
        supplier: "Fennrow Parts".into(),
        what: CostKind::Part,
        description: "Relay".into(),
        amount: Cents(1_840),
        means: Some(Means::Card),
        day: "2026-10-15".into(),
        due: "2026-11-15".into(),
        reference: "B-77".into(),
        by: "Wendell".into(),
        photos: vec![photo(job)],
    };
    let requested = ApprovalRequested {
        version: 1,
        estimate: estimate.record,
        channel: Channel::TextMessage,
        language: "en".into(),
        text: "Total 90.00. Reply YES.".into(),
        to: "555 0142".into(),
    };
    let withdrawn = ApprovalWithdrawn {
        approval: job.approvals[0].record,
        channel: Channel::Phone,
        name: "Odalys Brandt".into(),
        words: "Stop.".into(),
        photos: vec![photo(job)],
    };
    let waived = EstimateWaived {
        channel: Channel::InPerson,
        name: "Odalys Brandt".into(),
        words: "No written estimate needed.".into(),
        signature: "M10 20 L40 60 L80 20".into(),
        photos: vec![photo(job)],
    };
    vec![
        Event::EstimateWaived(waived),
        Event::ApprovalRequested(requested),
        Event::ApprovalWithdrawn(withdrawn),
        Event::CreditNoteKept(credit),
        Event::PaymentKept(payment),
        Event::SupplierStepKept(step),
        Event::ApprovalKept(job.approvals[0].event.clone()),
        Event::PartReceived(part),
        Event::ProgrammingDecided(decided),
        Event::ProgrammingReported(reported),
        Event::InvoiceKept(InvoiceKept {
            invoice,
            totals,
            approved: job.approvals[0].event.amount,
            seller_number: "DEMO 7001".into(),
        }),
        Event::HandedOver(handed_over),
        Event::EstimateKept(EstimateKept { estimate: next, totals }),
    ]
}
