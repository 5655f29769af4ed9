use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// The form that an action comes from.
#[derive(Clone, Debug, Default, PartialEq, Eq, Deserialize, Serialize, JsonSchema, TS)]
#[serde(deny_unknown_fields)]
#[ts(export)]
pub struct Form {
    /// Job id.
    pub job: String,
    /// The draft that the record settles: it is dropped in the same transaction. Empty for none.
    #[serde(default)]
    pub draft: String,
    /// How many records the job had when the form was shown, where what it says depends on that; another number now is
    /// refused with `job_moved`, and the draft stays.
    #[serde(default)]
    pub records: Option<u32>,
}

impl From<&str> for Form {
    fn from(job: &str) -> Form {
        Form { job: job.to_owned(), ..Form::default() }
    }
}

impl From<&String> for Form {
    fn from(job: &String) -> Form {
        Form::from(job.as_str())
    }
}
