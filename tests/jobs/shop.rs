//! A shop of its own for each check. The shop, people and vehicles are invented.

use api::Workshop;
use api::entry::*;
use api::view::JobView;
use api::world::SetClock;
use chrono::DateTime;
use std::collections::BTreeMap;
use std::sync::Arc;
use tempfile::TempDir;

pub struct Shop {
    pub workshop: Workshop,
    pub clock: Arc<SetClock>,
    pub folder: TempDir,
}

impl Shop {
    pub fn open() -> Shop {
        let folder = tempfile::tempdir().unwrap();
        let clock = Arc::new(SetClock::at(time("2026-10-12T08:00:00-05:00")));
        let workshop = Workshop::open_at(folder.path(), clock.clone()).unwrap();
        workshop.shop_set_up(&entry("US-CA")).unwrap();
        Shop { workshop, clock, folder }
    }

    /// Closes the shop, does something to its folder, and opens it again.
    pub fn reopen_after(&mut self, work: impl FnOnce(&std::path::Path)) {
        let elsewhere = tempfile::tempdir().unwrap();
        self.workshop = Workshop::open_at(elsewhere.path(), self.clock.clone()).unwrap();
        work(self.folder.path());
        self.workshop = Workshop::open_at(self.folder.path(), self.clock.clone()).unwrap();
    }

    pub fn at(&self, wall: &str) {
        self.clock.set(time(wall));
    }

    pub fn job(&self) -> JobView {
        self.workshop.job_open().unwrap()
    }

    /// A job with a meter and the high-side relay circuit.
    pub fn measuring(&self) -> String {
        let job = self.job().job;
        self.workshop.meter_choose(&job, &meter()).unwrap();
        self.workshop.circuit_choose(&job, "relay_high_side").unwrap();
        job
    }

    /// A small photo, drawn here.
    pub fn photo(&self, job: &str, purpose: PhotoPurpose) -> api::view::PhotoView {
        let mut jpeg = std::io::Cursor::new(Vec::new());
        let picture = image::RgbImage::from_fn(96, 64, |x, y| image::Rgb([x as u8, y as u8, 120]));
        picture.write_to(&mut jpeg, image::ImageFormat::Jpeg).unwrap();
        let entry = PhotoEntry { job: job.to_owned(), purpose, live: false };
        self.workshop.photo_keep(&entry, &jpeg.into_inner()).unwrap()
    }

    pub fn code<T>(result: Result<T, api::ApiError>) -> String {
        match result {
            Ok(_) => "kept".to_owned(),
            Err(error) => {
                let view = api::ErrorView::from(error);
                assert!(view.detail.len() > 10, "an error has to say what to do: {view:?}");
                view.code
            }
        }
    }
}

pub fn time(wall: &str) -> DateTime<chrono::FixedOffset> {
    DateTime::parse_from_rfc3339(wall).unwrap()
}

/// A value of a closed set by its code.
pub fn of_code<T: serde::de::DeserializeOwned>(code: &str) -> T {
    serde_json::from_value(code.into()).unwrap()
}

/// The finding that nothing is proven yet.
pub fn not_proven() -> FindingEntry {
    FindingEntry { words: String::new(), cause: String::new(), not_proven: true }
}

pub fn entry(region: &str) -> ShopEntry {
    ShopEntry {
        name: "Sable Creek Auto Electric".into(),
        technician: "Imre Valdsson".into(),
        region: region.into(),
        registration: "DEMO-0042".into(),
        address: String::new(),
        phone: String::new(),
        email: String::new(),
        labour_rate: "118,50".into(),
        tax_percent: "7.25".into(),
        keeps_years: String::new(),
        parts_taxed: String::new(),
        labour_taxed: String::new(),
        core_taxed: String::new(),
        tax_number: "DEMO 7001".into(),
        invoice_prefix: String::new(),
        credit_prefix: String::new(),
        numbered_apart: false,
    }
}

pub fn meter() -> MeterEntry {
    MeterEntry {
        name: "bench meter".into(),
        volts_input_megohms: "10".into(),
        low_impedance_kilohms: "3".into(),
        accuracy_percent: "0,5".into(),
        accuracy_counts: "2".into(),
    }
}

pub fn reading(value: &str, unit: &str) -> ReadingEntry {
    ReadingEntry {
        test: "control_open".into(),
        value: value.into(),
        unit: of_code(unit),
        mode: MeterMode::VoltsDc,
        range: String::new(),
        lowest: String::new(),
        highest: String::new(),
        condition: None,
        red: "s86".into(),
        black: "bat_neg".into(),
        red_pin: String::new(),
        black_pin: String::new(),
        state: BTreeMap::from([
            ("key".into(), "on".into()),
            ("request".into(), "on".into()),
            ("relay".into(), "removed".into()),
        ]),
        load: String::new(),
        complaint_present: ComplaintPresent::Yes,
        leads_placed_anew: true,
        note: String::new(),
        photos: vec![],
        photo_taken: false,
        kept_against_photo: false,
    }
}

pub fn line(kind: &str, price: &str) -> LineEntry {
    LineEntry {
        kind: of_code(kind),
        description: "Line".into(),
        quantity: "1".into(),
        unit_price: price.into(),
        condition: if kind == "part" { "new".into() } else { String::new() },
        part_number: String::new(),
        provider: String::new(),
        taxed: false,
    }
}

pub fn lines(lines: Vec<LineEntry>) -> LinesEntry {
    LinesEntry { lines }
}

/// The estimate in the customer's hands, on paper.
pub fn given_on_paper(version: u32) -> ApprovalRequestEntry {
    ApprovalRequestEntry {
        version,
        channel: Channel::InPerson,
        language: String::new(),
        text: "The estimate, on paper.".into(),
        to: String::new(),
    }
}

pub fn approval(version: u32) -> ApprovalEntry {
    ApprovalEntry {
        version,
        answers: Vec::new(),
        limit: String::new(),
        name: "Odalys Brandt".into(),
        // Nobody is named at the check-in of most of these jobs, and whoever is, is somebody else in some of them.
        signer_confirmed: true,
        given_at: String::new(),
        channel: Channel::InPerson,
        words: "Go ahead.".into(),
        conditions: String::new(),
        number_called: String::new(),
        called_by: String::new(),
        old_parts: OldParts::Return,
        signature: "M10 20 L40 60 L80 20".into(),
        photos: Vec::new(),
    }
}
