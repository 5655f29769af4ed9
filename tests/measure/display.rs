//! The display reader on invented photos in styles that nothing was trained on, and other readers on the same files.
//!
//! Beside it: Debian's `ssocr` and `tesseract-ocr`, and PyPI `rapidocr`. They
//! get what they are made for: the straightened cut of the true cells (they have no locator for displays), so that only
//! reading is compared.

use crate::Failure;
use display_pictures::whole::{self, Whole};
use photo::display::cut::{CUT, Framing, Pyramid};
use photo::{DisplayReading, read_display};
use std::path::Path;
use std::process::Command;
use std::time::Instant;

/// Photos of each kind.
const PHOTOS: u64 = 300;
/// Seeds that no training, calibration or look at errors has used.
const ORDINARY: u64 = 40_000_000;
const HARD: u64 = 50_000_000;
/// A reading at least this sure is shown as a proposal.
const SHOWN: f64 = 0.99;

struct Try {
    truth: Option<String>,
    says: Option<String>,
    reading: DisplayReading,
    spent: f64,
}

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let folder = tempfile::tempdir()?;
    let ordinary = tries(ORDINARY, true)?;
    let hard = tries(HARD, false)?;
    let both: Vec<&Try> = ordinary.iter().chain(&hard).collect();
    let mut times: Vec<f64> = both.iter().map(|one| one.spent * 1e3).collect();
    times.sort_by(f64::total_cmp);
    let others = others(folder.path())?;
    let mut figures = vec![
        ("display_exact_heldback", exact(&ordinary)),
        ("display_exact_heldback_hard", exact(&hard)),
        ("display_shown_at_99", shown(&both)),
        ("display_shown_at_99_ordinary", shown(&ordinary.iter().collect::<Vec<_>>())),
        ("display_wrong_of_shown_at_99", wrong_of_shown(&both)),
        ("display_ece", calibration_error(&both)),
        ("display_ms_p95", times.get(times.len() * 95 / 100).copied().unwrap_or(0.0)),
    ];
    figures.extend(others);
    Ok(figures)
}

fn photos(first: u64, easy: bool) -> impl Iterator<Item = Whole> {
    (first..first + PHOTOS).filter_map(move |seed| whole::photo(seed, true, easy))
}

fn tries(first: u64, easy: bool) -> Result<Vec<Try>, Failure> {
    photos(first, easy)
        .map(|photo| {
            let start = Instant::now();
            let reading = read_display(&photo.file)?;
            Ok(Try { truth: photo.value, says: photo.says, reading, spent: start.elapsed().as_secs_f64() })
        })
        .collect()
}

/// Of the photos in which a number can be read, those read letter by letter as the display writes it.
fn exact(tries: &[Try]) -> f64 {
    let readable = tries.iter().filter(|one| one.truth.is_some());
    let right = readable.clone().filter(|one| one.truth == one.reading.value).count();
    share(right, readable.count())
}

fn shown(tries: &[&Try]) -> f64 {
    let readable = tries.iter().filter(|one| one.truth.is_some());
    let sure = readable.clone().filter(|one| one.reading.confidence >= SHOWN).count();
    share(sure, readable.count())
}

/// Among photos of all kinds, covered ones, words and two equal rows too.
fn wrong_of_shown(tries: &[&Try]) -> f64 {
    let sure = tries.iter().filter(|one| one.reading.confidence >= SHOWN);
    share(sure.clone().filter(|one| one.says != one.reading.value).count(), sure.count())
}

/// Expected calibration error over ten equal bins of confidence (Naeini and others, 2015), of readings with a value.
fn calibration_error(tries: &[&Try]) -> f64 {
    let valued: Vec<&&Try> = tries.iter().filter(|one| one.reading.value.is_some()).collect();
    let bin = |one: &Try| ((one.reading.confidence * 10.0) as usize).min(9);
    (0..10)
        .map(|at| {
            let inside: Vec<&&&Try> = valued.iter().filter(|one| bin(one) == at).collect();
            let right = inside.iter().filter(|one| one.says == one.reading.value).count() as f64;
            let sure: f64 = inside.iter().map(|one| one.reading.confidence).sum();
            (right - sure).abs() / valued.len().max(1) as f64
        })
        .sum()
}

fn share(part: usize, whole: usize) -> f64 {
    part as f64 / whole.max(1) as f64
}

/// How many of the ordinary photos' readable numbers the other programs read exactly.
fn others(folder: &Path) -> Result<Vec<(&'static str, f64)>, Failure> {
    let mut cuts = Vec::new();
    for (at, photo) in photos(ORDINARY, true).enumerate() {
        let (Some(value), Some(corners)) = (photo.value, photo.corners) else { continue };
        let picture = image::load_from_memory(&photo.file)?.into_rgb8();
        let size = (CUT.0 * 3, CUT.1 * 3);
        let larger = photo::display::plane::Projection::stretch(1.0 / 3.0, 1.0 / 3.0, 0.0, 0.0);
        let pixels = Pyramid::new(picture).cut(&larger.then(&Framing::PLAIN.map(corners)), size);
        let path = folder.join(format!("{at:04}.png"));
        let cut = image::RgbImage::from_raw(u32::try_from(size.0)?, u32::try_from(size.1)?, pixels);
        cut.ok_or("no cut")?.save(&path)?;
        cuts.push((path.display().to_string(), value));
    }
    let rate = |read: &dyn Fn(&str) -> Option<String>| {
        let right =
            cuts.iter().filter(|(path, value)| read(path).is_some_and(|text| tidy(&text) == *value)).count();
        share(right, cuts.len())
    };
    let mut figures = Vec::new();
    if output("ssocr", &["--version"]).is_some() {
        figures.push(("display_exact_ssocr", rate(&|path| output("ssocr", &["-d", "-1", "-T", path]))));
    }
    if output("tesseract", &["--version"]).is_some() {
        let words = ["-", "--psm", "7", "-c", "tessedit_char_whitelist=0123456789.-OL"];
        figures.push((
            "display_exact_tesseract",
            rate(&|path| output("tesseract", &[&[path], &words[..]].concat())),
        ));
    }
    let python = testimeter_checks::venv::python_for_reading().display().to_string();
    let paths: Vec<&str> = cuts.iter().map(|(path, _)| path.as_str()).collect();
    let said = output(&python, &[&["-c", RAPIDOCR], &paths[..]].concat()).ok_or("rapidocr failed")?;
    let right = said.lines().zip(&cuts).filter(|(text, (_, value))| tidy(text) == *value).count();
    figures.push(("display_exact_rapidocr", share(right, cuts.len())));
    Ok(figures)
}

/// A line for each file, with what is read in it from left to right.
const RAPIDOCR: &str = "
import sys, logging
logging.disable(logging.CRITICAL)
from rapidocr import RapidOCR
read = RapidOCR()
for path in sys.argv[1:]:
    print(' '.join(read(path).txts or ()).replace('\\n', ' '))
";

fn output(name: &str, words: &[&str]) -> Option<String> {
    let output = Command::new(name).args(words).output().ok()?;
    output.status.success().then(|| String::from_utf8_lossy(&output.stdout).trim().to_owned())
}

/// Other programs' letters as the display's: spaces dropped, over-range in one spelling.
fn tidy(text: &str) -> String {
    let text: String = text.chars().filter(|letter| !letter.is_whitespace()).collect();
    let letters: String = text.chars().filter(|letter| *letter != '.').collect();
    match letters.to_uppercase().as_str() {
        "OL" | "0L" => "OL".to_owned(),
        "-OL" | "-0L" => "-OL".to_owned(),
        _ => text,
    }
}
