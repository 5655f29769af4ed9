use thiserror::Error;

/// What can go wrong between records and a job.
#[derive(Debug, Error)]
pub enum JobError {
    /// A record's body doesn't hold what its kind asks for.
    #[error(
        "a record can't be read as an event: {0}; it may come from a newer version of the app: update and open it again"
    )]
    Event(String),
    /// Money that doesn't add up.
    #[error(transparent)]
    Money(#[from] money::MoneyError),
}
