//! `testimeter photo`: the number on the display in each photo, what its label says, or a supplier's paper.

use crate::error::CliError;
use ::photo::DisplayReading;
use clap::{Args, Subcommand};
use serde::Serialize;
use std::path::PathBuf;

/// Photos of displays and labels.
#[derive(Args)]
pub struct PhotoCommand {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Read the number on the display in each photo. Ends with 1 if a file could not be read as a picture.
    Read(Read),
    /// Read the bar code of the label in each photo. Ends with 1 if a file could not be read as a picture.
    Label(crate::label::Label),
    /// Read what the supplier's paper in each photo says. Ends with 1 if a file could not be read as a picture.
    Paper(crate::paper::Paper),
}

#[derive(Args)]
struct Read {
    /// JPEG, PNG or WebP files.
    #[arg(required = true, value_name = "FILE")]
    files: Vec<PathBuf>,
    /// One JSON object a line: file, value (null when none is found), confidence from 0 to 1, corners in pixels; or file and
    /// error.
    #[arg(long)]
    json: bool,
}

impl PhotoCommand {
    pub fn run(self) -> Result<(), CliError> {
        match self.command {
            Command::Read(read) => read.run(),
            Command::Label(label) => label.run(),
            Command::Paper(paper) => paper.run(),
        }
    }
}

impl Read {
    fn run(self) -> Result<(), CliError> {
        let read = self;
        let mut failed = 0;
        for path in &read.files {
            let name = path.display().to_string();
            let line = Line::of(&name, seen(path));
            failed += usize::from(line.error.is_some());
            if read.json {
                println!("{}", line.as_json(&name)?);
            } else {
                println!("{}", line.as_text());
            }
        }
        if failed == 0 { Ok(()) } else { Err(CliError::Unread { failed, of: read.files.len() }) }
    }
}

fn seen(path: &PathBuf) -> Result<DisplayReading, String> {
    let bytes = std::fs::read(path).map_err(|error| format!("could not read the file: {error}"))?;
    ::photo::read_display(&bytes).map_err(|error| error.to_string())
}

#[derive(Serialize)]
struct Line<'a> {
    file: &'a str,
    #[serde(skip_serializing_if = "Option::is_none")]
    error: Option<String>,
    #[serde(flatten, skip_serializing_if = "Option::is_none")]
    seen: Option<Seen>,
}

#[derive(Serialize)]
struct Seen {
    value: Option<String>,
    confidence: f64,
    corners: Option<[(f32, f32); 4]>,
    two_rows: bool,
    upside_down: bool,
    at_edge: bool,
}

impl<'a> Line<'a> {
    fn of(file: &'a str, read: Result<DisplayReading, String>) -> Self {
        match read {
            Err(error) => Self { file, error: Some(error), seen: None },
            Ok(DisplayReading { value, confidence, corners, two_rows, upside_down, at_edge }) => Self {
                file,
                error: None,
                seen: Some(Seen { value, confidence, corners, two_rows, upside_down, at_edge }),
            },
        }
    }

    fn as_json(&self, name: &str) -> Result<String, CliError> {
        serde_json::to_string(self)
            .map_err(|error| CliError::Format { path: name.to_owned(), problem: error.to_string() })
    }

    fn as_text(&self) -> String {
        match (&self.error, &self.seen) {
            (Some(error), _) => format!("{}: {error}", self.file),
            (None, Some(Seen { value: Some(value), confidence, .. })) => {
                format!("{}: {value} ({:.1} % sure)", self.file, confidence * 100.0)
            }
            _ => format!("{}: no number found", self.file),
        }
    }
}
