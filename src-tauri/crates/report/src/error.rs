use thiserror::Error;

/// Why a report can't be written.
#[derive(Debug, Error)]
pub enum ReportError {
    /// A time that isn't one.
    #[error(
        "\"{0}\" is not a time with an offset from UTC (RFC 3339): check the device's clock and try again"
    )]
    Time(String),
    /// The note is longer than a QR code can hold.
    #[error(
        "the signed checkpoint has {0} bytes, too many for a QR code: shorten the shop's or the job's id"
    )]
    CheckpointTooLong(usize),
    /// The data of the page can't be put into JSON.
    #[error("the report's data can't be written down: {0}; please report it with the job's packet")]
    Data(#[from] serde_json::Error),
    /// The page can't be set.
    #[error("the report can't be laid out: {0}; please report it with the job's packet")]
    Typesetting(String),
    /// A list can't be written.
    #[error("the list can't be written: {0}; please report it")]
    List(String),
}

impl From<csv::Error> for ReportError {
    fn from(error: csv::Error) -> Self {
        Self::List(error.to_string())
    }
}
