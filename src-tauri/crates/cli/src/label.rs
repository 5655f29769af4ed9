//! `testimeter photo label`: the bar code of the label in each photo.

use crate::error::CliError;
use ::photo::{Effort, read_label};
use api::entry::{LabelEntry, LabelKind};
use clap::Args;
use serde::Serialize;
use std::path::PathBuf;

/// Photos of labels.
#[derive(Args)]
pub struct Label {
    /// JPEG, PNG or WebP files.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// Only a VIN whose check digit fits.
    #[arg(long)]
    vin: bool,
    /// One JSON object a line: file, text (null when none is found), symbology, corners in pixels; or file and error.
    #[arg(long)]
    json: bool,
}

#[derive(Serialize)]
struct Line<'a> {
    file: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<String>,
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    seen: Option<Seen>,
}

#[derive(Default, Serialize)]
struct Seen {
    text: Option<String>,
    symbology: Option<String>,
    corners: Vec<(f32, f32)>,
}

impl Label {
    pub fn run(self) -> Result<(), CliError> {
        let mut failed = 0;
        for path in &self.files {
            let file = path.display().to_string();
            let (error, seen) = match seen(path, self.vin) {
                Ok(seen) => (None, Some(seen)),
                Err(error) => (Some(error), None),
            };
            failed += usize::from(error.is_some());
            let line = Line { file: &file, error, seen };
            println!("{}", if self.json { json(&line)? } else { text(&line) });
        }
        if failed == 0 { Ok(()) } else { Err(CliError::Unread { failed, of: self.files.len() }) }
    }
}

fn seen(path: &PathBuf, vin: bool) -> Result<Seen, String> {
    let bytes = std::fs::read(path).map_err(|error| format!("could not read the file: {error}"))?;
    if vin {
        let entry = LabelEntry { what: LabelKind::Vin, frame: None };
        let label = api::label_in(&entry, &bytes).map_err(|error| error.to_string())?;
        return Ok(label.map_or_else(Seen::default, |label| Seen {
            text: Some(label.text),
            symbology: Some(label.symbology),
            corners: label.corners,
        }));
    }
    let label = read_label(&bytes, Effort::Photo, &|_| true).map_err(|error| error.to_string())?;
    Ok(label.map_or_else(Seen::default, |label| Seen {
        text: Some(label.text),
        symbology: Some(label.symbology.code().to_owned()),
        corners: label.corners,
    }))
}

fn json(line: &Line<'_>) -> Result<String, CliError> {
    serde_json::to_string(line)
        .map_err(|error| CliError::Format { path: line.file.to_owned(), problem: error.to_string() })
}

fn text(line: &Line<'_>) -> String {
    match (&line.error, line.seen.as_ref()) {
        (Some(error), _) => format!("{}: {error}", line.file),
        (None, Some(Seen { text: Some(text), symbology: Some(symbology), .. })) => {
            format!("{}: {text} ({symbology})", line.file)
        }
        _ => format!("{}: no bar code found", line.file),
    }
}
