//! Papers from photos of 12 megapixels: seconds from the tap to the file, and the most memory a process takes for it.

use crate::{Failure, median, memory, shop};
use api::Workshop;
use api::entry::{Recipient, ReportEntry, ReportForm};
use std::path::Path;
use std::process::Command;

/// Photos of an ordinary job, and of the longest that anybody photographs.
const PHOTOS: u32 = 20;
const MOST: u32 = 200;
const RUNS: usize = 5;

/// The word by which this program calls itself.
pub const ALONE: &str = "paper-alone";

/// The first paper of a job makes the small pictures; later ones find them.
pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let (_folder, workshop, job) = with_photos(PHOTOS)?;
    let seconds = |form| median(RUNS, || write(&workshop, &job, form));
    let first = std::time::Instant::now();
    write(&workshop, &job, ReportForm::Summary)?;
    let first = first.elapsed().as_secs_f64();
    Ok(vec![
        ("summary_s_20_photos_first", first),
        ("summary_s_20_photos", seconds(ReportForm::Summary)?),
        ("phone_page_s_20_photos", seconds(ReportForm::Page)?),
        ("full_report_s_20_photos", seconds(ReportForm::Full)?),
        ("statement_s_20_photos", seconds(ReportForm::Statement)?),
    ])
}

/// Both kinds of paper of the longest job, each in a process of its own; photos are kept by this one.
pub fn memory() -> Result<Vec<(&'static str, f64)>, Failure> {
    let (folder, workshop, job) = with_photos(MOST)?;
    drop(workshop);
    let alone = |form: &str| {
        let said =
            Command::new(std::env::current_exe()?).args([ALONE, form, &job]).arg(folder.path()).output()?;
        let figures = String::from_utf8(said.stdout)?;
        let mut figures = figures.split_whitespace().map(str::parse::<f64>);
        match (figures.next(), figures.next()) {
            (Some(Ok(seconds)), Some(Ok(megabytes))) => Ok((seconds, megabytes)),
            _ => Err(Failure::from(String::from_utf8_lossy(&said.stderr).into_owned())),
        }
    };
    let (seconds, megabytes) = alone("summary")?;
    let (full_seconds, full_megabytes) = alone("full")?;
    Ok(vec![
        ("summary_s_200_photos_first", seconds),
        ("summary_mb_200_photos", megabytes),
        ("full_report_s_200_photos", full_seconds),
        ("full_report_mb_200_photos", full_megabytes),
    ])
}

/// Writes one paper and says how long it took and the most memory this process ever held, in megabytes.
pub fn alone(words: &[String]) -> Result<(), Failure> {
    let [form, job, folder] = words else { return Err("paper-alone FORM JOB FOLDER".into()) };
    let workshop = Workshop::open(Path::new(folder))?;
    let start = std::time::Instant::now();
    write(&workshop, job, serde_json::from_value(form.as_str().into())?)?;
    println!("{} {}", start.elapsed().as_secs_f64(), memory::most_memory()?);
    Ok(())
}

fn with_photos(count: u32) -> Result<(tempfile::TempDir, Workshop, String), Failure> {
    let (folder, workshop, job) = shop::open()?;
    for seed in 1..=count {
        workshop.photo_keep(&shop::photo(&job), &shop::jpeg(4_000, 3_000, seed)?)?;
    }
    Ok((folder, workshop, job))
}

fn write(workshop: &Workshop, job: &str, form: ReportForm) -> Result<(), Failure> {
    workshop.report_write(job, &ReportEntry { form, ..ReportEntry::preset("en", Recipient::Customer) })?;
    Ok(())
}
