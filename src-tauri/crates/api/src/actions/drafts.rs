//! Forms as they stand, before anything of them becomes a record.

use crate::{ApiError, Workshop};

impl Workshop {
    /// Keeps a form as it stands. A form that belongs to no job has the job "".
    ///
    /// # Errors
    /// A store that can't be written to.
    pub fn draft_keep(&self, job: &str, form: &str, text: &str) -> Result<(), ApiError> {
        let text = serde_json::Value::String(text.to_owned());
        Ok(self.store.keep_draft(job, form, &text)?)
    }

    /// The form as it stood; empty when there is none.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn draft_view(&self, job: &str, form: &str) -> Result<String, ApiError> {
        let draft = self.store.draft(job, form)?;
        Ok(draft.and_then(|value| value.as_str().map(str::to_owned)).unwrap_or_default())
    }
}
