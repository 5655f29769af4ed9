//! Circuits as files: written into the exports folder, read from whatever somebody sends.

use super::as_typed;
use crate::entry::OwnCircuitEntry;
use crate::{ApiError, Workshop};
use circuit::ProblemCode;
use circuit::entered::Entered;

impl Workshop {
    /// Writes a kept circuit as a file for others and gives its path.
    ///
    /// # Errors
    /// An unknown id; a folder that can't be written to.
    pub fn own_circuit_export(&self, id: &str) -> Result<String, ApiError> {
        let own = self.own_circuit(id)?;
        let text = serde_json::to_string_pretty(&own.entered);
        let text = text.map_err(|e| job::JobError::Event(e.to_string()))?;
        let name = format!("circuit-{}-{}.json", in_file_name(&own.entered.title), own.id);
        self.export_file(&name, text.as_bytes())?;
        Ok(self.export_folder().join(name).display().to_string())
    }

    /// Reads a circuit that somebody sent, as it would be typed; nothing is kept. What is wrong inside it is shown by the
    /// check; text that is no circuit, or larger than a circuit may be, is refused here.
    ///
    /// # Errors
    /// The first problem, with its line.
    pub fn own_circuit_import(&self, text: &str) -> Result<OwnCircuitEntry, ApiError> {
        let entered = Entered::from_json(text).map_err(refused)?;
        // Beyond its limits it isn't even shown: a screen with ten thousand parts is of no use to anybody.
        match entered.clone().into_circuit() {
            Err(problems) if problems.iter().any(|problem| problem.code == ProblemCode::TooLarge) => {
                Err(refused(problems))
            }
            _ => Ok(as_typed::entry(&entered)),
        }
    }
}

fn refused(problems: Vec<circuit::Problem>) -> ApiError {
    let too_large = problems.iter().position(|problem| problem.code == ProblemCode::TooLarge);
    let first = problems.into_iter().nth(too_large.unwrap_or(0));
    first.map_or_else(|| ApiError::refused("circuit_not_whole"), |p| ApiError::CircuitFile(Box::new(p)))
}

/// Letters and digits of ASCII, the rest as `-`.
fn in_file_name(title: &str) -> String {
    let plain = |c: char| if c.is_ascii_alphanumeric() { c.to_ascii_lowercase() } else { '-' };
    let name: String = title.chars().map(plain).take(40).collect();
    let name = name.trim_matches('-');
    if name.is_empty() { "own".to_owned() } else { name.to_owned() }
}
