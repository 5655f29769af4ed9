use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// What is asked of the list of jobs.
#[derive(Clone, Debug, Default, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields, default)]
#[ts(export)]
pub struct JobsEntry {
    /// Words as typed; empty for all jobs.
    pub query: String,
    /// One of the list's `filters`; empty for all.
    pub filter: String,
    /// `next` of the page before; empty for the first page.
    pub after: String,
    /// How many rows, at most 1,000; 0 for a page of 50.
    pub rows: u32,
}

impl JobsEntry {
    /// A search among all jobs.
    #[must_use]
    pub fn of(query: &str) -> JobsEntry {
        JobsEntry { query: query.to_owned(), ..JobsEntry::default() }
    }
}
