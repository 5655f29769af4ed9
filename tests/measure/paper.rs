//! Supplier's papers that ImageMagick set, photographed by arithmetic: what of them is read right, beside Debian's `tesseract-ocr`
//! on the same pictures, whose text goes through the same proposal.

use crate::Failure;
use api::view::{PaperAmountView, PaperView};
use job::paper::{PaperDoubt, PaperRow, proposal};
use job::rules::of_region;
use std::path::Path;
use std::process::Command;
use std::time::Instant;
use testimeter_checks::papers::{self, Paper, Truth};

/// Papers, and the first one's seed: none that was looked at while the reader was written.
const PAPERS: u64 = 40;
const FIRST: u64 = 910_000;
/// Set to another first seed, to look at papers that no figure is taken on.
const LOOK: &str = "TESTIMETER_PAPERS";

/// What was read of one paper.
struct Read {
    total: Option<i64>,
    doubts: Vec<PaperDoubt>,
    /// Supplier, day, number, lines' amounts, whole lines, core and tax.
    fields: [bool; 7],
}

pub fn figures() -> Result<Vec<(&'static str, f64)>, Failure> {
    let models = papers::models().ok_or("the networks aren't there: `cargo xtask models` fetches them")?;
    let folder = tempfile::tempdir()?;
    let (mut ours, mut theirs, mut times) = (Vec::new(), Vec::new(), Vec::new());
    let looked = std::env::var(LOOK).ok().and_then(|first| first.parse::<u64>().ok());
    let first = looked.unwrap_or(FIRST);
    for seed in first..first + PAPERS {
        let paper = papers::paper(seed, papers::PHONE);
        let start = Instant::now();
        let view = api::paper_in(&paper.bytes, &models, paper.truth.region)?;
        times.push(start.elapsed().as_secs_f64());
        let read = of_view(&paper.truth, &view);
        if looked.is_some() {
            eprintln!(
                "{seed} {:?} {:?} {:?}",
                paper.wear,
                read.fields,
                read.total.map(|t| t - paper.truth.total)
            );
            eprintln!("  {:?}\n  {view:?}", paper.truth);
        }
        ours.push((paper.truth.total, read));
        theirs.push((paper.truth.total, tesseract(&paper, folder.path())?));
    }
    times.sort_by(f64::total_cmp);
    let mut figures = vec![
        ("paper_total_right", share(&ours, |total, read| read.total == Some(total))),
        ("paper_total_unsaid_doubt_wrong", wrong_of_sure(&ours)),
        ("paper_total_proven", share(&ours, |_, read| read.total.is_some() && read.doubts.is_empty())),
        ("paper_wrong_of_proposed", wrong_of_proposed(&ours)),
        (
            "paper_whole_right",
            share(&ours, |total, read| read.total == Some(total) && read.fields == [true; 7]),
        ),
        ("paper_s_median", times.get(times.len() / 2).copied().unwrap_or(0.0)),
        ("paper_tesseract_total_right", share(&theirs, |total, read| read.total == Some(total))),
        ("paper_tesseract_wrong_of_proposed", wrong_of_proposed(&theirs)),
        ("paper_tesseract_unsaid_doubt_wrong", wrong_of_sure(&theirs)),
        (
            "paper_tesseract_whole_right",
            share(&theirs, |total, read| read.total == Some(total) && read.fields == [true; 7]),
        ),
    ];
    let names = [
        "paper_supplier_right",
        "paper_day_right",
        "paper_number_right",
        "paper_amounts_right",
        "paper_lines_right",
        "paper_core_right",
        "paper_tax_right",
    ];
    for (place, name) in names.into_iter().enumerate() {
        figures.push((name, share(&ours, |_, read| read.fields.get(place) == Some(&true))));
    }
    Ok(figures)
}

fn share(all: &[(i64, Read)], fits: impl Fn(i64, &Read) -> bool) -> f64 {
    all.iter().filter(|(total, read)| fits(*total, read)).count() as f64 / all.len().max(1) as f64
}

fn wrong_of_proposed(all: &[(i64, Read)]) -> f64 {
    let proposed = share(all, |_, read| read.total.is_some());
    share(all, |total, read| read.total.is_some_and(|seen| seen != total)) / proposed.max(1e-9)
}

/// Of the totals that are proposed without a doubt, those that are wrong.
fn wrong_of_sure(all: &[(i64, Read)]) -> f64 {
    let sure = |read: &Read| read.total.is_some() && read.doubts.is_empty();
    let wrong = share(all, |total, read| sure(read) && read.total != Some(total));
    wrong / share(all, |_, read| sure(read)).max(1e-9)
}

fn cents(amount: Option<&PaperAmountView>) -> Option<i64> {
    amount.and_then(|amount| amount.cents.parse().ok())
}

/// One line as both say it, letters alone where gaps and capitals don't matter.
type Line = (String, String, String, Option<i64>);

fn plain(text: &str) -> String {
    text.chars().filter(|c| !c.is_whitespace()).flat_map(char::to_lowercase).collect()
}

fn of_view(truth: &Truth, view: &PaperView) -> Read {
    let lines = view.lines.iter().map(|line| {
        (plain(&line.description), line.part_number.clone(), line.quantity.clone(), cents(Some(&line.amount)))
    });
    let head = [view.supplier.as_str(), view.day.as_str(), view.number.as_str()];
    let sums = [cents(view.core.as_ref()), cents(view.tax.as_ref()), cents(view.total.as_ref())];
    held(truth, head, &lines.collect::<Vec<_>>(), sums, view.doubts.clone())
}

fn held(
    truth: &Truth,
    head: [&str; 3],
    lines: &[Line],
    sums: [Option<i64>; 3],
    doubts: Vec<PaperDoubt>,
) -> Read {
    let [supplier, day, number] = head;
    let [core, tax, total] = sums;
    let amounts = lines.iter().map(|line| line.3).eq(truth.lines.iter().map(|line| Some(line.amount)));
    // One of a thing needs not be said.
    let whole = amounts
        && lines.iter().zip(&truth.lines).all(|((description, part_number, quantity, _), line)| {
            let counted =
                *quantity == line.quantity.to_string() || (quantity.is_empty() && line.quantity == 1);
            *description == plain(&line.description) && *part_number == line.part_number && counted
        });
    let fields = [
        plain(supplier) == plain(&truth.supplier),
        day == truth.day,
        number == truth.number,
        amounts,
        whole,
        core == truth.core(),
        tax == truth.tax,
    ];
    Read { total, doubts, fields }
}

fn tesseract(paper: &Paper, folder: &Path) -> Result<Read, Failure> {
    let file = folder.join("paper.jpg");
    std::fs::write(&file, &paper.bytes)?;
    // A column of text of many sizes, the gaps between columns kept: what it reads of papers best.
    let words = ["stdout", "--psm", "4", "-c", "preserve_interword_spaces=1"];
    let output = Command::new("tesseract").arg(&file).args(words).output()?;
    let text = String::from_utf8_lossy(&output.stdout).into_owned();
    let rows = text.lines().map(str::trim).filter(|row| !row.is_empty());
    let rows: Vec<PaperRow> = rows.map(|row| PaperRow { text: row.to_owned(), probability: 0.95 }).collect();
    let seen = proposal(&rows, &of_region(paper.truth.region).locale, &[]);
    let lines: Vec<Line> = seen
        .lines
        .iter()
        .map(|line| {
            (plain(&line.description), line.part_number.clone(), line.quantity.clone(), Some(line.amount.0))
        })
        .collect();
    let sums = [seen.core, seen.tax, seen.total].map(|amount| amount.map(|cents| cents.0));
    Ok(held(&paper.truth, [&seen.supplier, &seen.day, &seen.number], &lines, sums, seen.doubts))
}
