//! One more reading in a job that has 2,000 of them, beside one that has 20, and what the answer weighs.

use crate::{Failure, median, shop};
use api::Workshop;
use api::entry::{ComplaintPresent, MeterEntry, MeterMode, ReadingEntry, Unit};
use circuit::{Circuit, Test};
use evidence::{Checkpoint, Frontier, Moment, NewRecord, seal};
use job::Event;
use job::event::ReadingKept;
use std::collections::BTreeMap;
use std::time::Duration;
use store::{CopiedRecord, LogCopy, OpenOptions, Store};
use tempfile::TempDir;

const RUNS: usize = 9;
/// Tests of the circuit with what our own solver shows for a radiator fan whose control wire is corroded.
const READINGS: &[(&str, &str)] = &[
    ("battery_volts", "12.55"),
    ("relay_feed_open", "12.55"),
    ("control_open", "12.52"),
    ("control_loaded", "6.75"),
    ("module_output_loaded", "12.50"),
    ("module_feed", "12.52"),
    ("module_ground", "0.02"),
    ("control_wire_drop", "5.74"),
];

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let few = Job::of(20)?;
    let short = few.action_ms()?;
    let many = Job::of(2_000)?;
    let long = many.action_ms()?;
    let bytes = |job: &Job| Ok::<_, Failure>(serde_json::to_string(&job.view()?)?.len() as f64 / 1e3);
    let view = median(RUNS, || many.view().map(drop))? * 1e3;
    Ok(vec![
        ("action_ms_at_20", short),
        ("action_ms_at_2000", long),
        ("action_ms_at_2000_over_at_20", long / short),
        ("view_kb_at_20", bytes(&few)?),
        ("view_kb_at_2000", bytes(&many)?),
        ("view_ms_at_2000", view),
    ])
}

/// A job on an open shop, in a folder that goes away with it.
struct Job {
    _folder: TempDir,
    workshop: Workshop,
    job: String,
    circuit: Circuit,
}

impl Job {
    /// A job with so many readings. They are written as another device's copy brings them, in one transaction.
    fn of(readings: usize) -> Result<Job, Failure> {
        let (folder, workshop, job) = shop::open()?;
        let circuit = circuit::library::find("relay_high_side")?;
        workshop.meter_choose(&job, &meter())?;
        workshop.circuit_choose(&job, &circuit.id)?;
        drop(workshop);
        fill(folder.path(), &job, &circuit, readings)?;
        let workshop = Workshop::open(folder.path())?;
        let all = Job { _folder: folder, workshop, job, circuit };
        // The first question starts an engine beside; the figures are those of one that is ready.
        all.keep(0)?;
        std::thread::sleep(Duration::from_secs(3));
        Ok(all)
    }

    fn view(&self) -> Result<api::view::JobView, Failure> {
        Ok(self.workshop.job_view(&self.job)?)
    }

    fn keep(&self, place: usize) -> Result<api::view::JobView, Failure> {
        let (test, value) = reading(&self.circuit, place)?;
        let entry = ReadingEntry {
            test: test.id.clone(),
            value: value.to_owned(),
            unit: Unit::Volt,
            mode: MeterMode::VoltsDc,
            range: String::new(),
            lowest: String::new(),
            highest: String::new(),
            condition: None,
            red: test.red.clone().unwrap_or_default(),
            black: test.black.clone().unwrap_or_default(),
            red_pin: String::new(),
            black_pin: String::new(),
            state: test.state.clone(),
            load: test.load.clone().unwrap_or_default(),
            complaint_present: ComplaintPresent::Yes,
            leads_placed_anew: true,
            note: "Wiggled the harness, no change.".into(),
            photos: Vec::new(),
            photo_taken: false,
            kept_against_photo: false,
        };
        Ok(self.workshop.reading_keep(&self.job, &entry)?)
    }

    fn action_ms(&self) -> Result<f64, Failure> {
        let mut place = 0;
        let seconds = median(RUNS, || {
            place += 1;
            self.keep(place).map(drop)
        })?;
        Ok(seconds * 1e3)
    }
}

fn meter() -> MeterEntry {
    MeterEntry {
        name: "bench meter".into(),
        volts_input_megohms: "10".into(),
        low_impedance_kilohms: String::new(),
        accuracy_percent: "0.5".into(),
        accuracy_counts: "2".into(),
    }
}

fn fill(folder: &std::path::Path, job: &str, circuit: &Circuit, readings: usize) -> Result<(), Failure> {
    let store = Store::open(folder, &OpenOptions::default())?;
    let log = store.logs(job)?.into_iter().next().ok_or("no log")?;
    let mut head = store.head(&log)?;
    let mut copy = LogCopy::new(log.clone());
    let key = store.device_key()?.ok_or("no key")?.key;
    let mut tree = Frontier::of(&store.leaves(&log)?);
    for place in 0..readings {
        let sealed = seal(&log, &head, record(circuit, place)?, &mut || [5; 16])?;
        head = sealed.head();
        tree.push(sealed.leaf);
        let text = Checkpoint { origin: log.origin(), size: tree.size(), root: tree.root() }.text();
        let signature = Some(key.sign_bytes(text.as_bytes()));
        copy.records.push(CopiedRecord { bytes: sealed.bytes, disclosures: sealed.disclosures, signature });
    }
    store.foreign_append(&copy)?;
    Ok(())
}

fn record(circuit: &Circuit, place: usize) -> Result<NewRecord, Failure> {
    let (test, value) = reading(circuit, place)?;
    let usual = circuit.variables.iter().map(|variable| (variable.id.clone(), variable.default.clone()));
    let mut state: circuit::State = usual.collect();
    state.extend(test.state.clone());
    let event = Event::ReadingKept(ReadingKept {
        test: test.id.clone(),
        value: value.to_owned(),
        unit: Unit::Volt,
        mode: MeterMode::VoltsDc,
        range: String::new(),
        lowest: String::new(),
        highest: String::new(),
        condition: None,
        red: test.red.clone().unwrap_or_default(),
        black: test.black.clone().unwrap_or_default(),
        red_pin: String::new(),
        black_pin: String::new(),
        state,
        load: test.load.clone().unwrap_or_default(),
        complaint_present: ComplaintPresent::Yes,
        placement: u32::try_from(place)? + 1,
        note: format!("Note {place}"),
        photos: Vec::new(),
        seen: None,
    });
    let parts = event.parts()?;
    Ok(NewRecord {
        kind: parts.kind,
        moment: Moment {
            wall: format!(
                "2026-11-27T{:02}:{:02}:{:02}.000-05:00",
                8 + place / 3600 % 8,
                place / 60 % 60,
                place % 60
            ),
            elapsed_ms: 1_000 * u64::try_from(place)?,
            boot: "bench".into(),
        },
        others: BTreeMap::new(),
        photos: Vec::new(),
        body: parts.body,
        withheld: parts.withheld,
    })
}

fn reading(circuit: &Circuit, place: usize) -> Result<(&Test, &'static str), Failure> {
    let (id, value) = READINGS.get(place % READINGS.len()).ok_or("no reading")?;
    let test = circuit.tests.iter().find(|test| test.id == *id).ok_or("no such test")?;
    Ok((test, value))
}
