use std::path::Path;
use thiserror::Error;

/// Why a command of the shell ended.
#[derive(Debug, Error)]
pub enum CliError {
    /// The api refused.
    #[error("{}", crate::refusal::sentence(.0))]
    Refused(api::ErrorView),
    /// A file that can't be read or written.
    #[error("could not {doing} {path}: {source}")]
    File {
        /// What was being done.
        doing: &'static str,
        /// File.
        path: String,
        /// What the system said.
        source: std::io::Error,
    },
    /// A file that isn't what it should be.
    #[error("{path}: {problem}")]
    Format {
        /// File.
        path: String,
        /// What is wrong, with line and column.
        problem: String,
    },
    /// A step of a played job that didn't go as its file says.
    #[error("step {step} ({what}): {problem}")]
    Step {
        /// Step from 1.
        step: usize,
        /// What the step does.
        what: String,
        /// What happened instead.
        problem: String,
    },
    /// A circuit, meter or reading the engine refuses.
    #[error(transparent)]
    Circuit(#[from] circuit::CircuitError),
    /// Files that are no pictures, or broken ones; each is named on a line of its own.
    #[error("{failed} of {of} files could not be read as a picture: their lines say why")]
    Unread {
        /// How many.
        failed: usize,
        /// Of how many.
        of: usize,
    },
    /// A packet that was just written doesn't verify.
    #[error("the packet {0} does not verify; this is a fault of the program: please report it")]
    BadPacket(String),
}

impl From<api::ApiError> for CliError {
    fn from(error: api::ApiError) -> CliError {
        CliError::Refused(error.into())
    }
}

/// Wraps what the system said about a file.
pub fn file(doing: &'static str, path: &Path) -> impl FnOnce(std::io::Error) -> CliError {
    let path = path.display().to_string();
    move |source| CliError::File { doing, path, source }
}

/// Reads a JSON file; errors name line and column.
pub fn read_json<T: serde::de::DeserializeOwned>(path: &Path) -> Result<T, CliError> {
    let text = std::fs::read_to_string(path).map_err(file("read", path))?;
    serde_json::from_str(&text)
        .map_err(|e| CliError::Format { path: path.display().to_string(), problem: e.to_string() })
}

/// Prints a value as JSON.
pub fn print_json<T: serde::Serialize>(value: &T) -> Result<(), CliError> {
    let text = serde_json::to_string_pretty(value)
        .map_err(|e| CliError::Format { path: "standard output".to_owned(), problem: e.to_string() })?;
    println!("{text}");
    Ok(())
}
