//! First pages against pictures of themselves that somebody looked at: a change in their looks must be meant.
//!
//! After a meant change: `TESTIMETER_KEEP_PAGES=1 cargo nextest run -E 'test(kept_pages)'` writes the pictures anew; look at
//! them before they are committed.

use crate::checks::{PICTURES, dollars};
use crate::jobs;
use crate::programs::{Printed, path, run};
use crate::summary::input;
use evidence::Digest;
use job::Job;
use job::rules::of_region;
use report::{Against, Language, findings_pdf, statement_pdf, summary_pdf};
use std::path::{Path, PathBuf};

/// Dots to the inch: enough that a shifted line shows.
const RESOLUTION: &str = "40";
/// How far the gray of a dot may be off before it counts, and the share of such dots that other versions of poppler's
/// smoothing may bring (judgment).
const GRAY: u8 = 48;
const SHARE: f64 = 0.004;

fn picture(photo: &Digest) -> Option<Vec<u8>> {
    PICTURES.get(photo).cloned()
}

/// The first page as a picture.
fn first_page(pdf: &[u8]) -> image::GrayImage {
    let printed = Printed::new(pdf);
    let folder = tempfile::tempdir().unwrap();
    let stem = folder.path().join("page");
    let options = ["-r", RESOLUTION, "-gray", "-png", "-singlefile", "-f", "1", "-l", "1"];
    run("pdftoppm", &[&options[..], &[path(&printed.path), path(&stem)]].concat());
    image::open(stem.with_extension("png")).unwrap().to_luma8()
}

/// The share of its dots that look otherwise than in the picture that was kept.
fn share_off(name: &str, now: &image::GrayImage) -> f64 {
    let kept = image::open(kept_at(name)).unwrap().to_luma8();
    assert_eq!(now.dimensions(), kept.dimensions(), "{name}: another paper");
    let pairs = now.pixels().zip(kept.pixels());
    let off = pairs.filter(|(now, kept)| now.0[0].abs_diff(kept.0[0]) > GRAY).count();
    off as f64 / f64::from(now.width() * now.height())
}

fn kept_at(name: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("reports/pages").join(format!("{name}.png"))
}

fn compare(name: &str, pdf: &[u8]) {
    let now = first_page(pdf);
    if std::env::var_os("TESTIMETER_KEEP_PAGES").is_some() {
        now.save(kept_at(name)).unwrap();
        return;
    }
    let share = share_off(name, &now);
    assert!(
        share <= SHARE,
        "{name}: {:.2} % of its dots look otherwise than in reports/pages",
        share * 100.0
    );
}

fn summary(job: &Job, language: Language, region: &str) -> Vec<u8> {
    summary_pdf(&input(job, &of_region(region).locale, &picture), language).unwrap()
}

#[test]
fn first_pages_look_as_they_did() {
    compare("summary-fixed-en-letter", &summary(&jobs::repaired(), Language::English, "US-CA"));
    compare("summary-fixed-es-a4", &summary(&jobs::repaired(), Language::Spanish, "ES"));
    compare("summary-open-en-letter", &summary(&jobs::not_proven(), Language::English, "US-CA"));
    let (job, locale) = (jobs::repaired(), dollars());
    let input = input(&job, &locale, &picture);
    compare("statement-en", &statement_pdf(&input, &Against::Customer, Language::English).unwrap());
    compare("full-en", &findings_pdf(&input, Language::English).unwrap());
}

/// The check itself sees a page that lost a line.
#[test]
fn a_page_that_changed_is_seen() {
    let mut job = jobs::repaired();
    job.intake.complaint = None;
    let share = share_off("summary-fixed-en-letter", &first_page(&summary(&job, Language::English, "US-CA")));
    assert!(share > SHARE, "only {:.2} % changed", share * 100.0);
}
