//! What can go wrong around the project, and what to try.
use std::path::PathBuf;

use thiserror::Error;

#[derive(Debug, Error)]
pub enum Error {
    #[error(
        "{program} can't be started ({reason}); is it installed? `cargo xtask setup` installs what is missing"
    )]
    NotStarted { program: String, reason: std::io::Error },
    #[error("`{command}` ended with {status}; its own words are above")]
    Failed { command: String, status: std::process::ExitStatus },
    #[error("{path}: {reason}", path = path.display())]
    File { path: PathBuf, reason: std::io::Error },
    #[error("Debian packages are missing. As root, type:\n  {line}")]
    Packages { line: String },
    #[error("{0}")]
    Found(String),
    #[error("{failed} of the checks failed")]
    Checks { failed: usize },
}

impl Error {
    /// A program's own exit code is passed on, so that scripts see what the program meant.
    pub fn exit_code(&self) -> u8 {
        match self {
            Error::Failed { status, .. } => {
                status.code().and_then(|code| u8::try_from(code).ok()).filter(|code| *code != 0).unwrap_or(1)
            }
            _ => 1,
        }
    }
}

/// Names the path in an error of the file system: `std::fs::read(&p).map_err(at(&p))`.
pub fn at(path: &std::path::Path) -> impl FnOnce(std::io::Error) -> Error {
    move |reason| Error::File { path: path.to_owned(), reason }
}
