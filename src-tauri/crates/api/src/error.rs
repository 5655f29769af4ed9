use job::Refused;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use thiserror::Error;
use ts_rs::TS;

/// A refused action: a code with values. The sentence and the remedy stand in the words of the screen.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ErrorView {
    /// Code.
    pub code: String,
    /// Values the sentence needs, by name.
    pub values: BTreeMap<String, String>,
    /// What happened, in English, for the log and the command line.
    pub detail: String,
}

/// Everything an action can be refused for.
#[derive(Debug, Error)]
pub enum ApiError {
    /// The store refused.
    #[error(transparent)]
    Store(#[from] store::StoreError),
    /// Bytes that are no evidence.
    #[error(transparent)]
    Evidence(#[from] evidence::EvidenceError),
    /// A picture that can't be kept.
    #[error(transparent)]
    Photo(#[from] photo::PhotoError),
    /// A circuit or a reading the engine refuses.
    #[error(transparent)]
    Circuit(#[from] circuit::CircuitError),
    /// A file or text that is no circuit, or too large for one.
    #[error("this is no circuit that can be read: {0}")]
    CircuitFile(Box<circuit::Problem>),
    /// Money as typed, or lines that don't add up.
    #[error(transparent)]
    Money(#[from] money::MoneyError),
    /// A line of an estimate or an invoice; which one, from 1.
    #[error("line {number}: {error}")]
    Line {
        /// Its number.
        number: u32,
        /// What is wrong with it.
        error: Box<ApiError>,
    },
    /// One field of a form, as the screen names it.
    #[error("{place}: {error}")]
    Field {
        /// Which field, such as `coil_ohms`.
        place: String,
        /// What is wrong with it.
        error: Box<ApiError>,
    },
    /// A number that is none.
    #[error("{0:?} is no number: write one such as 1.5")]
    NotANumber(String),
    /// A wire color that is none.
    #[error("{0:?} is no wire color: write two letters a color, such as BU or BUYE")]
    NoColor(String),
    /// An event that can't be written as a record.
    #[error(transparent)]
    Job(#[from] job::JobError),
    /// A value that no record may hold.
    #[error(transparent)]
    Unusable(#[from] job::event::Unusable),
    /// A record that could not be read back; it was not kept.
    #[error("this could not be read back, so it was not kept: {0}")]
    Unreadable(String),
    /// A setting that isn't what this version keeps under its name.
    #[error("the setting {name} can't be read: {detail}; set it anew, or restore a backup")]
    Setting {
        /// Its name.
        name: &'static str,
        /// What is wrong.
        detail: String,
    },
    /// A measured value as typed.
    #[error(transparent)]
    Measured(#[from] job::measured::MeasuredError),
    /// A VIN that can't be.
    #[error(transparent)]
    Vin(#[from] job::vin::VinError),
    /// The report could not be made.
    #[error(transparent)]
    Report(#[from] report::ReportError),
    /// No way to an authority.
    #[error(transparent)]
    Authority(#[from] authority::AskError),
    /// A time-stamp or the certificate of an authority.
    #[error(transparent)]
    Timestamp(#[from] evidence::timestamp::TimestampError),
    /// The packet could not be written.
    #[error("the packet could not be written: {0}")]
    Packet(String),
    /// The system gave no random numbers; nothing may be sealed without them.
    #[error("the system gave no random numbers: start the device again")]
    NoRandomness,
    /// A file outside the store.
    #[error(
        "could not {doing} {path}: {source}; check that the file is there and the folder can be written to"
    )]
    File {
        /// What was being done.
        doing: &'static str,
        /// File.
        path: String,
        /// What the system said.
        source: std::io::Error,
    },
    /// A rule of the job refuses it.
    #[error("not now: {}", .0.reason)]
    Refused(Refused),
    /// Something that was sent isn't known here.
    #[error("{what} {value:?} is not known: choose one that is listed")]
    Unknown {
        /// Sort of thing.
        what: &'static str,
        /// What was sent.
        value: String,
    },
    /// A field that must not be empty.
    #[error("{field} is empty: fill it in")]
    Empty {
        /// Field.
        field: &'static str,
    },
    /// A field longer than is kept.
    #[error("{field} is longer than {limit} characters: shorten it")]
    TooLong {
        /// Field.
        field: &'static str,
        /// Limit in characters.
        limit: usize,
    },
    /// The first start has not been answered.
    #[error("the shop is not set up yet: answer the first start")]
    NotSetUp,
    /// The work was cancelled; nothing is left behind.
    #[error("cancelled; nothing was changed")]
    Cancelled,
}

impl ApiError {
    /// A refusal with a reason's code only.
    pub(crate) fn refused(reason: &'static str) -> ApiError {
        ApiError::Refused(Refused::because(reason))
    }

    /// Code for the words of the screen.
    pub fn code(&self) -> &'static str {
        match self {
            ApiError::Store(error) => store_code(error),
            ApiError::Evidence(_) => "evidence_unreadable",
            ApiError::Photo(error) => photo_code(error),
            ApiError::Circuit(circuit::CircuitError::OutOfRange { .. }) => "number_out_of_range",
            ApiError::Circuit(circuit::CircuitError::Field { .. }) => "words_refused",
            ApiError::Circuit(_) => "circuit_refused",
            ApiError::Field { error, .. } => error.code(),
            ApiError::NotANumber(_) => "not_a_number",
            ApiError::NoColor(_) => "no_color",
            ApiError::CircuitFile(problem) if problem.code == circuit::ProblemCode::TooLarge => {
                "circuit_file_too_large"
            }
            ApiError::CircuitFile(_) => "circuit_file_refused",
            ApiError::Money(error) => money_code(error),
            ApiError::Line { error, .. } => error.code(),
            ApiError::Job(_) | ApiError::Unreadable(_) => "job_unreadable",
            ApiError::Unusable(_) => "value_refused",
            ApiError::Setting { .. } => "setting_unreadable",
            ApiError::Measured(error) => measured_code(error),
            ApiError::Vin(_) => "vin_refused",
            ApiError::Report(_) => "report_failed",
            ApiError::Authority(authority::AskError::Address(_)) => "authority_address",
            ApiError::Authority(_) => "authority_unreachable",
            ApiError::Timestamp(evidence::timestamp::TimestampError::BadRoot(_)) => "authority_root",
            ApiError::Timestamp(_) => "timestamp_refused",
            ApiError::Packet(_) => "packet_failed",
            ApiError::NoRandomness => "no_randomness",
            ApiError::File { .. } => "file_failed",
            ApiError::Refused(refused) => refused.reason,
            ApiError::Unknown { .. } => "unknown_choice",
            ApiError::Empty { .. } => "field_empty",
            ApiError::TooLong { .. } => "field_too_long",
            ApiError::NotSetUp => "not_set_up",
            ApiError::Cancelled => "cancelled",
        }
    }

    fn values(&self) -> BTreeMap<String, String> {
        let pairs: Vec<(&str, String)> = match self {
            ApiError::Line { number, error } => {
                let mut values = error.values();
                values.insert("line".to_owned(), number.to_string());
                return values;
            }
            ApiError::Field { place, error } => {
                let mut values = error.values();
                values.insert("place".to_owned(), place.clone());
                return values;
            }
            ApiError::NotANumber(value) | ApiError::NoColor(value) => vec![("value", value.clone())],
            ApiError::Circuit(circuit::CircuitError::OutOfRange { value, least, most, unit, .. }) => {
                let unit = if *unit == "ohm" { "Ω" } else { unit };
                vec![
                    ("value", value.clone()),
                    ("least", least.clone()),
                    ("most", most.clone()),
                    ("unit", unit.to_owned()),
                ]
            }
            ApiError::Money(error) => {
                let line = error.line().map(|line| ("line", line.to_string()));
                line.into_iter().chain([("detail", error.cause().to_string())]).collect()
            }
            ApiError::Unusable(unusable) => {
                vec![("field", unusable.field.to_owned()), ("detail", unusable.why.clone())]
            }
            ApiError::Setting { name, detail } => {
                vec![("name", (*name).to_owned()), ("detail", detail.clone())]
            }
            ApiError::Refused(refused) => return refused.values.clone(),
            ApiError::CircuitFile(problem) => {
                vec![("line", problem.line.unwrap_or(1).to_string()), ("place", problem.place.clone())]
            }
            ApiError::Unknown { what, value } => vec![("what", (*what).to_owned()), ("value", value.clone())],
            ApiError::Empty { field } => vec![("field", (*field).to_owned())],
            ApiError::TooLong { field, limit } => {
                vec![("field", (*field).to_owned()), ("limit", limit.to_string())]
            }
            other => vec![("detail", other.to_string())],
        };
        pairs.into_iter().map(|(name, value)| (name.to_owned(), value)).collect()
    }
}

impl From<ApiError> for ErrorView {
    fn from(error: ApiError) -> ErrorView {
        ErrorView { code: error.code().to_owned(), values: error.values(), detail: error.to_string() }
    }
}

fn store_code(error: &store::StoreError) -> &'static str {
    use store::StoreError as E;
    match error {
        E::AlreadyOpen { .. } => "already_open",
        E::ReadOnly { .. } => "folder_read_only",
        E::DiskFull => "disk_full",
        E::TooNew { .. } => "written_by_newer_version",
        E::OriginalMissing { .. } => "photo_not_kept",
        E::OriginalDamaged { .. } => "original_damaged",
        E::KeyLocked => "key_locked",
        E::WrongPassphrase => "wrong_passphrase",
        E::KeyUnreadable { .. } => "key_unreadable",
        E::TooCostly { .. } | E::NotABackup { .. } => "not_a_backup",
        E::BackupDamaged(_) => "backup_damaged",
        E::NotEmpty { .. } => "folder_not_empty",
        E::Busy => "files_busy",
        E::Moved { .. } => "job_moved",
        E::Fork { .. } => "log_forked",
        E::NotVouched { .. } => "records_not_vouched",
        E::NotSigned { .. } => "record_not_signed",
        E::LogDamaged { .. } => "log_damaged",
        E::Cancelled => "cancelled",
        _ => "store_failed",
    }
}

fn photo_code(error: &photo::PhotoError) -> &'static str {
    use photo::PhotoError as E;
    match error {
        E::Empty => "photo_empty",
        E::NotAPicture => "photo_not_a_picture",
        E::Truncated { .. } => "photo_truncated",
        E::NoArea => "no_area_marked",
        E::CannotStrip { .. } => "cannot_strip",
        E::Paper(_) => "paper_not_read",
        _ => "photo_damaged",
    }
}

fn money_code(error: &money::MoneyError) -> &'static str {
    use money::MoneyError as E;
    match error.cause() {
        E::NotAnAmount { .. } | E::TooManyDecimals { .. } | E::BadGrouping { .. } => "amount_unreadable",
        E::AmbiguousSeparator { .. } => "amount_ambiguous",
        E::BelowZero { .. } | E::NegativePrice => "amount_below_zero",
        E::OverLimit { .. } | E::TooLarge => "amount_over_limit",
        E::PositiveDeduction => "deduction_above_zero",
        E::TotalBelowZero { .. } => "total_below_zero",
        E::NoLines => "no_lines",
        E::NoDescription => "line_without_description",
        E::NoCondition => "part_without_condition",
        E::NoProvider => "sublet_without_provider",
        _ => "money_refused",
    }
}

fn measured_code(error: &job::measured::MeasuredError) -> &'static str {
    use job::measured::MeasuredError as E;
    match error {
        E::NotANumber(_) => "reading_not_a_number",
        E::OutOfRange { .. } => "reading_out_of_range",
        E::Unit(_) => "reading_unit",
    }
}
