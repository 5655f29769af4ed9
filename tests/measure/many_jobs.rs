//! A shop of 20,000 and one of 100,000 jobs: opening it, searching it as people type, keeping a record in it.

use crate::{Failure, median, shop};
use api::Workshop;
use api::entry::JobsEntry;
use evidence::{LogId, Moment, NewRecord, seal};
use job::Event;
use job::event::IntakeKept;
use std::collections::BTreeMap;
use std::time::Instant;
use store::{AppendRequest, JobRow, JobSummary, OpenOptions, Store};
use tempfile::TempDir;

const RUNS: usize = 5;
/// Keeps beside each other in two jobs.
const KEEPS: usize = 9;

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let smaller = Shop::of(20_000)?;
    let open_smaller = smaller.open_s()?;
    drop(smaller);
    let shop = Shop::of(100_000)?;
    let open = shop.open_s()?;
    let workshop = Workshop::open(shop.folder.path())?;
    let all = times(&workshop, &typed(1))?;
    let one_or_two: Vec<String> = typed(1).into_iter().filter(|text| text.chars().count() <= 2).collect();
    let short = times(&workshop, &one_or_two)?;
    let keep = keep_ms(&workshop)?;
    Ok(vec![
        ("open_s_20k", open_smaller),
        ("open_s_100k", open),
        ("search_ms_median_100k", at(&all, 0.5)),
        ("search_ms_p95_100k", at(&all, 0.95)),
        ("search_ms_worst_100k", at(&all, 1.0)),
        ("search_ms_p95_100k_one_or_two_letters", at(&short, 0.95)),
        ("action_ms_100k", keep),
    ])
}

/// A shop of many jobs, in a folder that goes away with it.
pub(crate) struct Shop {
    folder: TempDir,
}

impl Shop {
    /// A shop with so many jobs of one record each. In memory where the system has a folder there: durable writes, one
    /// by one, would take hours; opening then reads what a second opening finds in memory, too.
    pub fn of(jobs: u64) -> Result<Shop, Failure> {
        let memory = std::path::Path::new("/dev/shm");
        let folder = if memory.is_dir() { tempfile::tempdir_in(memory)? } else { tempfile::tempdir()? };
        let like = shop::set_up(folder.path())?.job_open()?.job;
        let store = Store::open(folder.path(), &OpenOptions::default())?;
        let like = store.logs(&like)?.into_iter().next().ok_or("no log")?;
        for number in 2..=jobs {
            keep(&store, &LogId { job: format!("job-{number}"), ..like.clone() }, number)?;
        }
        Ok(Shop { folder })
    }

    pub fn folder(&self) -> &std::path::Path {
        self.folder.path()
    }

    fn open_s(&self) -> Result<f64, Failure> {
        median(1, || {
            Workshop::open(self.folder.path())?;
            Ok(())
        })
    }
}

/// Milliseconds of each search for the list's first page, sorted.
fn times(workshop: &Workshop, typed: &[String]) -> Result<Vec<f64>, Failure> {
    let mut times = Vec::new();
    for text in typed {
        for _ in 0..RUNS {
            let start = Instant::now();
            workshop.jobs_search(&JobsEntry::of(text))?;
            times.push(start.elapsed().as_secs_f64() * 1e3);
        }
    }
    times.sort_by(f64::total_cmp);
    Ok(times)
}

fn at(times: &[f64], share: f64) -> f64 {
    times.get((times.len() as f64 * share) as usize).or(times.last()).copied().unwrap_or(0.0)
}

/// One more record in each of two jobs by turns: each comes to the top of the list.
fn keep_ms(workshop: &Workshop) -> Result<f64, Failure> {
    let jobs = [workshop.job_open()?.job, workshop.job_open()?.job];
    let mut kept = 0;
    let seconds = median(KEEPS, || {
        kept += 1;
        let entry = api::entry::IntakeEntry {
            odometer: Some(kept.to_string()),
            complaint: Some(format!("Radiator fan never runs, {kept} times")),
            ..api::entry::IntakeEntry::default()
        };
        let job = jobs.get(kept % 2).ok_or("no job")?;
        workshop.intake_keep(job, &entry)?;
        Ok(())
    })?;
    Ok(seconds * 1e3)
}

/// What is typed, letter by letter, as searches go out: words and numbers that many jobs hold, some, one, and none.
fn typed(from: usize) -> Vec<String> {
    let whole = [
        "odalys brandt",
        "marchetti",
        "7kx042",
        "calder wren",
        "2019 calder",
        "radiator fan",
        "does not start",
        "no",
        "678901",
        "5550142",
        "77123",
        "tamsin o",
        "zzz",
        "lamp flickers marchetti",
        "2024 ar",
    ];
    let grown =
        |text: &'static str| (from..=text.len()).filter_map(move |end| text.get(..end)).map(str::to_owned);
    let mut all: Vec<String> =
        whole.into_iter().flat_map(grown).filter(|text| !text.ends_with(' ')).collect();
    all.dedup();
    all
}

const FIRST: &[&str] =
    &["Odalys", "Tamsin", "Imre", "Bettina", "Corvin", "Dagny", "Ezio", "Farah", "Gideon", "Ilse"];
const LAST: &[&str] =
    &["Brandt", "Marchetti", "Okafor", "Valdsson", "Quillonia", "Reyes", "Sandoval", "Thorne", "Ueda"];
const CARS: &[&str] = &["Calder Wren", "Arden Pike", "Halvor Tern", "Nuflo Lark", "Orsa Finch", "Pell Heron"];
const COMPLAINTS: &[&str] = &[
    "Radiator fan never runs, engine gets hot in traffic",
    "Does not start in the morning, clicks once",
    "Left rear lamp flickers over bumps",
    "No charge light, battery flat after two days",
    "Window on the driver's side stops halfway down",
    "Fuel gauge reads empty with a full tank",
];

fn keep(store: &Store, log: &LogId, number: u64) -> Result<(), Failure> {
    let place = usize::try_from(number)?;
    let one_of =
        |from: &[&'static str], step: usize| from.get(place / step % from.len()).copied().unwrap_or("");
    let customer = format!("{} {}", one_of(FIRST, 1), one_of(LAST, 10));
    let vehicle = format!("{} {}", 1998 + number % 28, one_of(CARS, 3));
    let complaint = one_of(COMPLAINTS, 7);
    let event = Event::IntakeKept(IntakeKept {
        customer: Some(customer.clone()),
        complaint: Some(complaint.to_owned()),
        ..IntakeKept::default()
    });
    let parts = event.parts()?;
    let wall = format!("2026-{:02}-{:02}T09:30:00.000-05:00", number % 12 + 1, number % 28 + 1);
    let new = NewRecord {
        kind: parts.kind,
        moment: Moment { wall: wall.clone(), elapsed_ms: 1_000 * number, boot: "bench".into() },
        others: BTreeMap::new(),
        photos: Vec::new(),
        body: parts.body,
        withheld: parts.withheld,
    };
    let sealed = seal(log, &store.head(log)?, new, &mut || [5; 16])?;
    // Every word that a search can find: plate, VIN, phone, address.
    let scrambled = number.wrapping_mul(2_654_435_761) % 100_000_000;
    let search_text = format!(
        "ZZ9AB3CD{scrambled:09}\n{}KX-{:03}\n{customer}\n512 555 {:04}\nc{number}@example.com\n{complaint}",
        number % 10,
        scrambled % 1_000,
        scrambled % 10_000
    );
    let row = JobRow {
        job: log.job.clone(),
        number,
        title: complaint.to_owned(),
        vehicle,
        customer,
        stage: "handed_over".into(),
        waiting: String::new(),
        opened: wall.clone(),
        changed: wall,
    };
    let summary = JobSummary { row, search_text, cache: br#"{"proven":null}"#.to_vec(), cache_records: 1 };
    let key = store.device_key()?.ok_or("no key")?.key;
    let signature = key.sign_bytes(store.next_head(log, sealed.leaf)?.text().as_bytes());
    store
        .append(&AppendRequest { summary: Some(&summary), ..AppendRequest::new(log, &sealed, signature) })?;
    Ok(())
}
