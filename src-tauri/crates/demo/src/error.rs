use api::ApiError;
use thiserror::Error;

/// Why a job could not be played to its end.
#[derive(Debug, Error)]
pub enum PlayError {
    /// The workshop refused something that is no step of the file.
    #[error(transparent)]
    Workshop(#[from] ApiError),
    /// A step was refused that the file doesn't say is to be refused.
    #[error("step {step} ({what}): {error}")]
    Refused {
        /// Step from 1.
        step: usize,
        /// What the step does.
        what: String,
        /// The refusal.
        error: Box<ApiError>,
    },
    /// A step went otherwise than its file says.
    #[error("step {step} ({what}): {problem}")]
    Otherwise {
        /// Step from 1.
        step: usize,
        /// What the step does.
        what: String,
        /// What happened instead.
        problem: String,
    },
    /// A photo or reading is named that no earlier step keeps.
    #[error("{name}: {problem}")]
    Unknown {
        /// What the file calls it.
        name: String,
        /// What to do.
        problem: &'static str,
    },
    /// A photo can't be read.
    #[error("could not read the photo {file}: {source}")]
    Photo {
        /// Name in the script.
        file: String,
        /// What the system said.
        source: std::io::Error,
    },
    /// The sample inside the program is broken: a fault of the program.
    #[error("the sample job can't be read: {0}")]
    Sample(#[from] serde_json::Error),
}
