//! Invented jobs: a repaired one with hostile names, an unproven one, a module call, an empty one.

use evidence::Digest;
use job::event::*;
use job::measured::Unit;
use job::{Attempt, Job, Kept, MeterMode, Reading, TimelineRecord};
use money::{Cents, Condition, Estimate, Invoice, Line, LineKind, Quantity, TaxBasis, TaxRate};
use serde_json::json;
use std::collections::BTreeMap;

/// Names that would do harm if a text were taken for markup of any kind, or that need more than Latin letters.
pub const HOSTILE_CUSTOMER: &str = "Ana <b>Ruiz</b> #panic(\"x\") $x^2$ *y* @z \\ &amp;";
pub const HOSTILE_COMPLAINT: &str =
    "<script>alert('cold')</script> #image(\"/etc/passwd\") ```raw``` // none /* none */";
pub const RIGHT_TO_LEFT: &str = "الزجاج بارد";

const CIRCUIT: &str = include_str!("circuit.json");

pub fn all() -> Vec<(&'static str, Job)> {
    vec![
        ("repaired", repaired()),
        ("not proven", not_proven()),
        ("module", module_called()),
        ("fuse", fuse_called()),
        ("empty", Job::default()),
    ]
}

/// The digest of a name: stands for a record's leaf or a photo's hash.
pub fn digest(name: &str) -> Digest {
    Digest::of(name.as_bytes())
}

/// Six photos, a called cause, a correction, two approvals, a part, programming above its quote, a bill, a proof.
pub fn repaired() -> Job {
    let mut job = opened();
    job.intake.complaint = Some(format!("{HOSTILE_COMPLAINT} {RIGHT_TO_LEFT} 😀"));
    job.intake.customer = Some(HOSTILE_CUSTOMER.to_owned());
    job.readings = vec![
        reading(1, "0.18", "09:20", "yes"),
        Reading {
            corrects: Some((digest("reading 1"), "wrong post".to_owned())),
            ..reading(2, "3.84", "09:26", "yes")
        },
        reading(3, "0.04", "15:40", "no"),
    ];
    job.readings[0].corrected_by = Some(digest("reading 2"));
    job.findings = vec![kept("finding", "10:02", finding(Outcome::CauseCalled))];
    job.estimates = vec![estimate(1, 12_500), estimate(2, 38_000), estimate(3, 99_900)];
    job.approvals = vec![approval(1, 13_500), approval(2, 41_040)];
    job.parts = vec![kept("part", "13:10", part())];
    job.programming = vec![kept("decided", "13:30", decided())];
    job.programmed = vec![attempt(1, "14:50", reported())];
    job.proofs = vec![kept(
        "proof",
        "15:44",
        FixProven {
            before: digest("reading 2"),
            after: digest("reading 3"),
            note: "Window clear after 6 minutes".to_owned(),
        },
    )];
    job.invoices = vec![kept("invoice", "16:05", invoice())];
    job.timeline = vec![doubted_photo()];
    job.cautions = ["battery".to_owned()].into();
    job
}

/// No cause called, evidence missing.
pub fn not_proven() -> Job {
    let mut job = opened();
    job.readings = vec![reading(1, "0.18", "09:20", "unknown")];
    job.findings = vec![kept("finding", "10:02", finding(Outcome::NotProven))];
    job
}

/// A module called, not repaired yet.
pub fn module_called() -> Job {
    let mut job = opened();
    let called = FindingKept {
        cause: "body-module-output/dead".to_owned(),
        cause_en: String::new(),
        cause_es: String::new(),
        ..finding(Outcome::ModuleCalled)
    };
    job.findings = vec![kept("finding", "10:02", called)];
    job.approvals = vec![approval(1, 13_500)];
    job
}

/// A fuse that opened is what was found; why is still open.
pub fn fuse_called() -> Job {
    let mut job = opened();
    let mut called = FindingKept { cause: "rear-fuse/open".to_owned(), ..finding(Outcome::CauseCalled) };
    called.cause_en = "Rear window fuse: open".to_owned();
    called.cause_es = "Fusible de la luneta: abierto".to_owned();
    called.result["open_fuses"] = json!(["rear-fuse"]);
    job.findings = vec![kept("finding", "10:02", called)];
    job
}

/// Wall time of the invented day.
pub fn wall(time: &str) -> String {
    format!("2031-03-04T{time}:00.000-06:00")
}

pub fn kept<T>(name: &str, time: &str, event: T) -> Kept<T> {
    Kept { record: digest(name), wall: wall(time), event }
}

pub fn photo_names() -> [&'static str; 6] {
    ["arrival", "plate", "meter 1", "meter 2", "meter 3", "receipt"]
}

fn opened() -> Job {
    let mut job = Job::default();
    job.opened.number = 17;
    job.opened.shop = "Quillan Road Auto Electric".to_owned();
    job.opened.registration = "ZZ-000417".to_owned();
    job.opened.technician = "Imre Vass".to_owned();
    job.opened_wall = wall("08:50");
    job.intake.make = Some("Halvard".to_owned());
    job.intake.model = Some("Comet".to_owned());
    job.intake.year = Some("2024".to_owned());
    job.intake.plate = Some("TST 4417".to_owned());
    job.intake.odometer = Some("61204".to_owned());
    job.intake.odometer_unit = Some(OdometerUnit::Mi);
    job.intake.complaint = Some("The rear window stays cold.".to_owned());
    let circuit = CircuitChosen { circuit: "rear-window-heater".to_owned(), definition: CIRCUIT.to_owned() };
    job.circuit = Some(kept("circuit", "09:10", circuit));
    let purposes = ["arrival", "identity", "reading", "reading", "reading", "part"];
    let times = ["08:51", "08:52", "09:20", "09:26", "15:40", "13:10"];
    for ((name, purpose), time) in photo_names().into_iter().zip(purposes).zip(times) {
        job.photos.insert(digest(name), kept(&format!("photo {name}"), time, photo(name, purpose)));
    }
    job
}

fn photo(name: &str, purpose: &str) -> PhotoKept {
    PhotoKept {
        sha256: digest(name),
        bytes: "2481133".to_owned(),
        media_type: "image/jpeg".to_owned(),
        purpose: serde_json::from_value(purpose.into()).unwrap(),
        taken: "2031-03-04T09:19:58".to_owned(),
        width: 4000,
        height: 3000,
        has_preview: true,
        doubts: Vec::new(),
        found_later: false,
        live: false,
    }
}

fn reading(number: u32, value: &str, time: &str, complaint: &str) -> Reading {
    Reading {
        number,
        record: digest(&format!("reading {number}")),
        wall: wall(time),
        reading: ReadingKept {
            test: "ground-drop".to_owned(),
            value: value.to_owned(),
            unit: Unit::Volt,
            mode: MeterMode::VoltsDc,
            range: String::new(),
            lowest: String::new(),
            highest: String::new(),
            condition: None,
            red: "heater-ground".to_owned(),
            black: "battery-negative".to_owned(),
            red_pin: String::new(),
            black_pin: String::new(),
            state: BTreeMap::from([("key".to_owned(), "run".to_owned())]),
            load: String::new(),
            complaint_present: serde_json::from_value(complaint.into()).unwrap(),
            placement: number,
            note: String::new(),
            photos: vec![digest(&format!("meter {number}"))],
            seen: None,
        },
        corrects: None,
        corrected_by: None,
        withdrawn: false,
        after_repair: number > 2,
    }
}

fn finding(outcome: Outcome) -> FindingKept {
    let cause = |id: &str, probability: &str, by: Option<&str>| {
        let ruled_out = by.map(|by| json!({ "by": digest(by).to_string(), "factor": "90.0" }));
        let grounds = json!([
            { "observation": digest("reading 2").to_string(), "log_likelihood": "1.2", "log_odds": "4.1" },
            { "observation": digest("reading 1").to_string(), "log_likelihood": "-0.3", "log_odds": "-0.4" },
        ]);
        json!({ "id": id, "probability": probability, "ruled_out": ruled_out, "grounds": grounds })
    };
    FindingKept {
        outcome,
        cause: "pillar-ground/high_resistance".to_owned(),
        cause_en: "Left pillar ground: too much resistance".to_owned(),
        cause_es: "Masa del pilar izquierdo: demasiada resistencia".to_owned(),
        probability: "0.971".to_owned(),
        likelihood: "very_likely".to_owned(),
        words: "Paint under the ring terminal.".to_owned(),
        engine: "testimeter-circuit 0.1.0".to_owned(),
        circuit: "rear-window-heater".to_owned(),
        circuit_sha256: Digest::of(CIRCUIT.as_bytes()),
        readings: vec![digest("reading 2")],
        closed_jobs: Default::default(),
        result: json!({
            "causes": [
                cause("pillar-ground/high_resistance", "0.971", None),
                cause("heater/open", "0.012", None),
                cause("body-module-output/dead", "0.001", Some("reading 2")),
            ],
            "unmodelled": "0.016",
            "overturned_by": [{ "about": "pillar-ground/high_resistance", "test": "ground-drop",
                "result": { "between": { "from": null, "to": "0.1" } }, "chance": "0.02",
                "probability_after": "0.1", "leading_after": "heater/open" }],
            "modules": [{ "probability": "0.001", "missing": [
                { "code": "supply_not_observed", "about": "feed", "test": null },
                { "code": "rival_too_likely", "about": "heater/open + pillar-ground/open", "test": null },
                { "code": "rival_too_likely", "about": "unmodelled", "test": null },
                { "code": "rival_too_likely", "about": "heater/open", "test": null },
                { "code": "rival_too_likely", "about": "heater/dead", "test": null },
                { "code": "rival_too_likely", "about": "heater/weak", "test": null },
            ] }, { "probability": "0.0001", "missing": [
                { "code": "probability_too_low", "about": null, "test": null },
            ] }],
            "expected": [{ "observation": digest("reading 2").to_string(), "healthy": "0.05" }],
        }),
    }
}

fn estimate(version: u32, labour: i64) -> Kept<EstimateKept> {
    let lines = vec![Line::new(LineKind::Labor, "Clean and refit the ground", Quantity::ONE, Cents(labour))];
    let estimate = Estimate {
        version,
        lines,
        tax_rate: TaxRate::ZERO,
        tax_basis: TaxBasis::Invoice,
        tax_included: false,
    };
    let totals = estimate.totals().unwrap();
    kept(&format!("estimate {version}"), "10:10", EstimateKept { estimate, totals })
}

fn approval(version: u32, amount: i64) -> Kept<ApprovalKept> {
    kept(
        &format!("approval {version}"),
        "10:20",
        ApprovalKept {
            given_at: String::new(),
            version,
            estimate: digest(&format!("estimate {version}")),
            amount: Cents(amount),
            answers: Vec::new(),
            signer: None,
            photos: Vec::new(),
            conditions: String::new(),
            number_called: if version == 1 { String::new() } else { "555 0142".to_owned() },
            called_by: String::new(),
            channel: if version == 1 { Channel::InPerson } else { Channel::Phone },
            old_parts: OldParts::Return,
            name: HOSTILE_CUSTOMER.to_owned(),
            words: "Yes, go ahead.".to_owned(),
            signature: if version == 1 {
                "M20 150C60 20 110 20 120 120L150 90Q190 40 230 120L260 100C300 60 330 160 380 90L560 110"
                    .to_owned()
            } else {
                "M 1 2\"/><script>alert(1)</script>".to_owned()
            },
        },
    )
}

fn part() -> PartReceived {
    PartReceived {
        supplier: "Norbury Supply & <Sons>".to_owned(),
        part_number: "RT-8-M6".to_owned(),
        description: "Ring terminal, 8 mm²".to_owned(),
        condition: Condition::New,
        price: Cents(640),
        core_charge: Cents(0),
        return_terms: "30 days".to_owned(),
        warranty: "12 months".to_owned(),
        photos: vec![digest("receipt")],
        module: String::new(),
    }
}

fn decided() -> ProgrammingDecided {
    let route = |route: &str, cost: i64| WeighedRoute {
        route: serde_json::from_value(route.into()).unwrap(),
        expected_cost: Cents(cost),
        expected_hours: "1.5".to_owned(),
        success: "0.95".to_owned(),
    };
    ProgrammingDecided {
        route: ProgrammingRoute::RemoteService,
        provider: "Ostrava Remote Coding".to_owned(),
        quoted: Cents(9_500),
        weighed: vec![route("remote_service", 11_020), route("dealer_sublet", 24_000)],
        appointment: "14:00".to_owned(),
        appointment_at: String::new(),
        reason: "soonest".to_owned(),
    }
}

/// An attempt under the decision of the invented job.
pub fn attempt(number: u32, time: &str, event: ProgrammingReported) -> Attempt {
    let kept = kept(&format!("reported {number}"), time, event);
    Attempt { number, kept, decided: Some(digest("decided")), corrected_by: None }
}

pub fn reported() -> ProgrammingReported {
    ProgrammingReported {
        outcome: ProgrammingOutcome::Succeeded,
        supply_volts: "13.6".to_owned(),
        software_before: "A104".to_owned(),
        software_after: "A107".to_owned(),
        billed: Cents(11_000),
        photos: Vec::new(),
        corrects: None,
        checks: vec![],
        voltages: vec![],
        window: None,
    }
}

fn invoice() -> InvoiceKept {
    let lines = vec![
        Line::new(LineKind::Diagnosis, "Finding the fault", "1.25".parse().unwrap(), Cents(12_000)),
        Line::new(LineKind::Labor, "Clean and refit the ground", "0.8".parse().unwrap(), Cents(12_000)),
        Line {
            taxed: true,
            condition: Some(Condition::New),
            part_number: Some("RT-8-M6".to_owned()),
            supplier: Some("Norbury Supply & <Sons>".to_owned()),
            ..Line::new(LineKind::Part, "Ring terminal #1", Quantity::ONE, Cents(1_290))
        },
    ];
    let tax_rate = "7.25".parse().unwrap();
    let invoice = Invoice {
        number: "2031-17".to_owned(),
        estimate_version: 2,
        lines,
        tax_rate,
        tax_basis: TaxBasis::Invoice,
        tax_included: false,
    };
    let totals = invoice.totals().unwrap();
    InvoiceKept { invoice, totals, approved: Cents(41_040), seller_number: String::new() }
}

fn doubted_photo() -> TimelineRecord {
    TimelineRecord {
        device: "device-1".into(),
        vouched: true,
        record: digest("photo meter 1"),
        sequence: 6,
        kind: "photo_kept".to_owned(),
        wall: wall("09:20"),
        event: Some(Event::PhotoKept(photo("meter 1", "reading"))),
        unusable: String::new(),
        photos: vec![digest("meter 1")],
        doubts: vec![job::RecordDoubt::CaptureTimeFarFromClock],
    }
}
