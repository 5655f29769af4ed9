//! The customer's summary: one page, few behind it, readable by people and programs.

use crate::checks::{DRAWING, PICTURES, checkpoint, dollars, has};
use crate::jobs::{self, HOSTILE_COMPLAINT, HOSTILE_CUSTOMER, digest, wall};
use crate::programs::{Printed, path, run};
use evidence::Digest;
use job::event::{PhotoKept, PhotoPurpose};
use job::rules::{Locale, of_region};
use job::{Job, Reading};
use report::{
    CUSTOMER_BYTES, EightWords, FindingsInput, LONGEST_MESSAGE, Language, RulesPrint, ShopPrint,
    result_message, summary_page, summary_pdf,
};
use std::collections::BTreeMap;
use std::process::Command;
use testimeter_checks::venv::python_for_pages;

const LANGUAGES: [Language; 2] = [Language::English, Language::Spanish];

pub fn shop() -> ShopPrint {
    ShopPrint {
        address: "1180 Creek Road, Sandle, CA 90000".to_owned(),
        phone: "555-0100".to_owned(),
        email: "office@quillan.example".to_owned(),
        registration: "DEMO-0042".to_owned(),
    }
}

/// What a page is made of, with a picture for each photo.
pub fn input<'a>(
    job: &'a Job,
    locale: &Locale,
    picture: &'a dyn Fn(&Digest) -> Option<Vec<u8>>,
) -> FindingsInput<'a> {
    FindingsInput {
        job,
        number: 2,
        shop: shop(),
        drawing: DRAWING.to_owned(),
        checkpoint: checkpoint(),
        picture,
        missing_photos: BTreeMap::new(),
        most_bytes: CUSTOMER_BYTES,
        written: wall("16:10"),
        rules: RulesPrint {
            region: "Example State".to_owned(),
            locale: locale.clone(),
            sources: Vec::new(),
            card_notice_days: Some(60),
        },
        outside_times: Vec::new(),
    }
}

fn picture(photo: &Digest) -> Option<Vec<u8>> {
    PICTURES.get(photo).cloned()
}

fn printed(job: &Job, language: Language, locale: &Locale) -> Printed {
    Printed::new(&summary_pdf(&input(job, locale, &picture), language).unwrap())
}

/// Text of one page, every white space made one space.
fn page_text(printed: &Printed, page: u32) -> String {
    let page = page.to_string();
    let text = run("pdftotext", &["-enc", "UTF-8", "-f", &page, "-l", &page, path(&printed.path), "-"]);
    text.split_whitespace().collect::<Vec<_>>().join(" ")
}

/// A job with many photos, many readings and names as long as anybody's.
fn long(photos: usize, readings: u32) -> Job {
    let mut job = jobs::repaired();
    let long = "Extraordinarily Longwinded Automotive Electric and Sons of Upper Quillan".to_owned();
    job.opened.shop = long.clone();
    job.intake.customer = Some(long.clone());
    job.intake.make = Some("Corvane Motor Works Limited Edition".to_owned());
    job.intake.complaint =
        Some("The window at the back never gets warm, and the fuse was changed twice. ".repeat(4));
    let first = job.readings.last().unwrap().clone();
    for number in 4..readings {
        let name = format!("reading {number}");
        job.readings.push(Reading { number, record: digest(&name), corrects: None, ..first.clone() });
    }
    let kept = job.photos.values().next().unwrap().clone();
    job.photos.retain(|photo, _| photos > 0 || *photo == digest("never"));
    for number in job.photos.len()..photos {
        let photo = digest(&format!("more {number}"));
        let purpose = if number % 2 == 0 { PhotoPurpose::PinOut } else { PhotoPurpose::Repair };
        let event = PhotoKept { sha256: photo, purpose, ..kept.event.clone() };
        job.photos.insert(photo, job::Kept { event, ..kept.clone() });
    }
    job
}

#[test]
fn every_job_fits_one_page_and_at_most_three_behind_it() {
    for (name, job) in jobs::all() {
        for language in LANGUAGES {
            for region in ["US-CA", "ES"] {
                let printed = printed(&job, language, &of_region(region).locale);
                run("qpdf", &["--check", path(&printed.path)]);
                let pages: u32 = printed.info("Pages").parse().unwrap();
                assert!((2..=4).contains(&pages), "{name}: {pages} pages");
                let (first, second) = (page_text(&printed, 1), page_text(&printed, 2));
                has(&first, &[&checkpoint().root_words]);
                let readings = if language == Language::English { "Readings" } else { "Lecturas" };
                assert!(
                    second.starts_with(readings),
                    "{name} {region}: the first page flowed over: {second}"
                );
                assert!(!printed.text().contains("summary_"), "a key shows");
                assert!(!printed.text().contains('{'), "an open place: {}", printed.text());
            }
        }
    }
}

/// The limits of the house: 500 KB go through any messenger.
#[test]
fn long_names_and_many_photos_change_neither_pages_nor_size() {
    for (photos, readings) in [(0, 5), (1, 5), (60, 120)] {
        let job = long(photos, readings);
        for language in LANGUAGES {
            let pictures = |photo: &Digest| PICTURES.values().nth(usize::from(photo.0[0]) % 6).cloned();
            let pdf = summary_pdf(&input(&job, &dollars(), &pictures), language).unwrap();
            assert!(pdf.len() <= CUSTOMER_BYTES, "{photos} photos: {} bytes", pdf.len());
            let printed = Printed::new(&pdf);
            let pages: u32 = printed.info("Pages").parse().unwrap();
            assert!(pages <= 4, "{photos} photos, {readings} readings: {pages} pages");
            let readings = if language == Language::English { "Readings" } else { "Lecturas" };
            assert!(page_text(&printed, 2).starts_with(readings), "{photos}: the first page flowed over");
        }
    }
}

/// Body 10.5 points, nothing under 8.5. Poppler's XML counts 96 to the inch, so four times as large as points times 4/3 · 72/96.
#[test]
fn nothing_is_printed_smaller_than_eight_and_a_half_points() {
    let printed = printed(&jobs::repaired(), Language::English, &dollars());
    let xml = run("pdftohtml", &["-xml", "-i", "-stdout", "-zoom", "4", path(&printed.path)]);
    let sizes = xml.lines().filter(|line| line.contains("<fontspec"));
    let sizes: Vec<f64> = sizes
        .map(|line| line.split("size=\"").nth(1).unwrap().split('"').next().unwrap().parse().unwrap())
        .collect();
    let smallest = sizes.iter().copied().fold(f64::INFINITY, f64::min);
    assert!(sizes.len() > 5 && smallest >= 8.5 * 3.0, "{sizes:?}");
}

#[test]
fn names_that_look_like_markup_come_out_as_they_were_typed() {
    let job = jobs::repaired();
    // Long words may break between their letters, where a space of no width stands.
    let text = printed(&job, Language::English, &dollars()).text().replace('\u{200b}', "");
    let plain = |s: &str| s.split_whitespace().collect::<Vec<_>>().join(" ");
    has(&text, &[&plain(HOSTILE_CUSTOMER), &plain(HOSTILE_COMPLAINT)]);
    let page = summary_page(&input(&job, &dollars(), &picture), Language::English).unwrap();
    assert!(!page.contains("<script") && !page.contains("<b>Ruiz"), "a name became markup");
    assert!(page.contains("&lt;script&gt;alert"), "the complaint is there, escaped");
}

#[test]
fn the_phone_page_asks_for_nothing_from_elsewhere() {
    for language in LANGUAGES {
        let page = summary_page(&input(&jobs::repaired(), &dollars(), &picture), language).unwrap();
        assert!(page.len() <= CUSTOMER_BYTES, "{}", page.len());
        for outside in ["http://", "https://", "<link", "<iframe", "@import", "url("] {
            // The namespace of the drawn code is a name, not an address that is fetched; it is inside Base64 anyway.
            assert!(!page.contains(outside), "{outside}");
        }
        assert!(page.contains("data:image/jpeg;base64,") && page.contains("Content-Security-Policy"));
    }
}

/// Read by zbar: the code opens as text that says which report it is.
#[test]
fn the_code_reads_as_a_sentence() {
    let printed = printed(&jobs::repaired(), Language::English, &dollars());
    let folder = tempfile::tempdir().unwrap();
    let prefix = folder.path().join("page");
    run("pdftoppm", &["-r", "200", "-f", "1", "-l", "1", "-png", path(&printed.path), path(&prefix)]);
    let picture = std::fs::read_dir(folder.path()).unwrap().next().unwrap().unwrap().path();
    let read = run("zbarimg", &["--raw", "-q", path(&picture)]);
    let opened = &jobs::repaired().opened;
    has(&read, &[&opened.shop, "job 17, report 2", &checkpoint().root_words, "Compare them"]);
}

/// Rules that the PyPI package pdfua checks of ISO 14289-1.
#[test]
fn pdfua_finds_nothing() {
    let python = python_for_pages();
    let program = python.with_file_name("pdfua");
    let job = jobs::repaired();
    let whole = report::findings_pdf(&input(&job, &dollars(), &picture), Language::English).unwrap();
    let statement = report::statement_pdf(
        &input(&job, &dollars(), &picture),
        &report::Against::Customer,
        Language::English,
    );
    let summary = summary_pdf(&input(&job, &dollars(), &picture), Language::Spanish).unwrap();
    for pdf in [whole, statement.unwrap(), summary] {
        let printed = Printed::new(&pdf);
        let output = Command::new(&program).args(["check", path(&printed.path)]).output().unwrap();
        let said = String::from_utf8_lossy(&output.stdout).into_owned();
        assert!(output.status.success() && !said.contains("[FAIL"), "{said}");
    }
}

#[test]
fn a_message_is_short_and_keeps_its_words() {
    let words = EightWords { words: checkpoint().root_words, in_report: true };
    let jobs = jobs::all().into_iter().map(|(_, job)| job).chain([long(6, 30)]);
    for mut job in jobs {
        for shop in [String::new(), "Quillan ".repeat(3), "Quillan ".repeat(90)] {
            job.opened.shop = shop;
            for language in LANGUAGES {
                let text = result_message(&job, &words, "555-0100", language, &dollars());
                assert!(
                    text.chars().count() <= LONGEST_MESSAGE,
                    "{} characters: {text}",
                    text.chars().count()
                );
                assert!(text.contains(&words.words), "{text}");
                assert!(!text.contains(['’', '“', '”', '—', '−', '\u{a0}']), "{text}");
            }
        }
    }
}

#[test]
fn a_fix_shows_both_values_and_what_the_money_did() {
    let text = printed(&jobs::repaired(), Language::English, &dollars()).text();
    has(
        &text,
        &[
            "Fixed, and measured again",
            "3.84 V",
            "0.04 V",
            "at most 0.2 V",
            "You approved",
            "$410.40",
            "$259.84",
        ],
    );
    let open = printed(&jobs::not_proven(), Language::English, &dollars()).text();
    has(&open, &["Not proven yet", "A part bought now would be a guess."]);
    assert!(!open.contains("Fixed, and measured again"));
}
