//! `testimeter photo paper`: what the supplier's paper in each photo says.

use crate::error::CliError;
use api::paper_in;
use api::view::PaperView;
use clap::Args;
use serde::Serialize;
use std::path::PathBuf;

/// Photos of receipts, quotes and bills.
#[derive(Args)]
pub struct Paper {
    /// JPEG, PNG or WebP files.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Folder of the networks that read text: `cargo xtask models` fetches them.
    #[arg(long, value_name = "DIR")]
    models: PathBuf,
    /// Region whose way to write amounts and dates holds, such as US-MI or GB; without it, ISO dates.
    #[arg(long, value_name = "CODE", default_value = "")]
    region: String,
    /// One JSON object a line: file, supplier, day, number, lines, core, tax, total, what the lines add up to (amounts in
    /// minor units, and as they are typed) and doubts; or file and error.
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Line<'a> {
    file: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<String>,
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    seen: Option<PaperView>,
}

impl Paper {
    pub fn run(self) -> Result<(), CliError> {
        let mut failed = 0;
        for path in &self.files {
            let file = path.display().to_string();
            let (error, seen) = match self.read(path) {
                Ok(paper) => (None, Some(paper)),
                Err(error) => (Some(error), None),
            };
            failed += usize::from(error.is_some());
            let line = Line { file: &file, error, seen };
            println!("{}", if self.json { json(&line)? } else { text(&line) });
        }
        if failed == 0 { Ok(()) } else { Err(CliError::Unread { failed, of: self.files.len() }) }
    }

    fn read(&self, path: &PathBuf) -> Result<PaperView, String> {
        let bytes = std::fs::read(path).map_err(|error| format!("could not read the file: {error}"))?;
        paper_in(&bytes, &self.models, &self.region).map_err(|error| error.to_string())
    }
}

fn json(line: &Line<'_>) -> Result<String, CliError> {
    serde_json::to_string(line)
        .map_err(|error| CliError::Format { path: line.file.to_owned(), problem: error.to_string() })
}

fn text(line: &Line<'_>) -> String {
    let paper = match (&line.error, &line.seen) {
        (Some(error), _) => return format!("{}: {error}", line.file),
        (None, Some(paper)) => paper,
        (None, None) => return format!("{}: nothing was read", line.file),
    };
    let Some(total) = &paper.total else { return format!("{}: no total found", line.file) };
    let head: Vec<&str> = [&paper.supplier, &paper.day, &paper.number]
        .into_iter()
        .map(String::as_str)
        .filter(|text| !text.is_empty())
        .collect();
    let count = paper.lines.len();
    let sums = match (paper.doubts.is_empty(), &paper.adds_up_to) {
        (true, _) => format!("{count} lines add up to it"),
        (false, Some(sum)) => format!("the {count} lines come to {} instead", sum.typed),
        (false, None) => "no lines were read that prove it".to_owned(),
    };
    format!("{}: {} ({}; {sums})", line.file, total.typed, head.join(", "))
}
