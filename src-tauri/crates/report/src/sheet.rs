//! A document ready to be set: which template, its data, its files.

use crate::ReportError;
use chrono::{DateTime, FixedOffset};
use serde::Serialize;
use std::collections::BTreeMap;

/// Which of our templates sets a document.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub(crate) enum Template {
    /// Everything that is on record.
    Full,
    /// One page for the customer, with at most three more behind it.
    Summary,
    /// What is claimed and what shows it.
    Statement,
}

/// A document ready to be set.
pub(crate) struct Sheet {
    pub template: Template,
    /// What the template reads, as JSON: nothing a user wrote is ever markup.
    pub data: Vec<u8>,
    /// Files that the template shows, by path.
    pub files: BTreeMap<String, Vec<u8>>,
    /// Date of the document.
    pub written: DateTime<FixedOffset>,
    /// Stable name of the document, for its identifier.
    pub ident: String,
    /// What the pictures weigh together.
    pub picture_bytes: usize,
}

impl Sheet {
    /// A document of `data`, written at a time given as RFC 3339 with offset.
    pub fn new(template: Template, data: &impl Serialize, written: &str) -> Result<Sheet, ReportError> {
        Ok(Sheet {
            template,
            data: serde_json::to_vec(data)?,
            files: BTreeMap::new(),
            written: DateTime::parse_from_rfc3339(written)
                .map_err(|_| ReportError::Time(written.to_owned()))?,
            ident: String::new(),
            picture_bytes: 0,
        })
    }
}
