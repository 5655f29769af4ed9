use rusqlite::{OptionalExtension, named_params};
use serde_json::Value;

use crate::{Store, StoreError};

impl Store {
    /// A stored setting, or `None` when it was never set.
    ///
    /// # Errors
    /// Those of the database.
    pub fn setting(&self, key: &str) -> Result<Option<Value>, StoreError> {
        let find = "SELECT json FROM settings WHERE key = ?";
        self.json(find, &[&key])
    }

    /// Sets a setting durably.
    ///
    /// # Errors
    /// Those of the database.
    pub fn set_setting(&self, key: &str, json: &Value) -> Result<(), StoreError> {
        let text = json.to_string();
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/setting_put.sql"))?;
        statement.execute(named_params! { ":key": key, ":json": text })?;
        Ok(())
    }

    /// What was typed into a form of a job and not yet sealed. A form that begins a job has the job "".
    ///
    /// # Errors
    /// Those of the database.
    pub fn draft(&self, job: &str, form: &str) -> Result<Option<Value>, StoreError> {
        self.json("SELECT json FROM drafts WHERE job = ? AND form = ?", &[&job, &form])
    }

    /// Keeps what was typed so far, durably.
    ///
    /// # Errors
    /// Those of the database.
    pub fn keep_draft(&self, job: &str, form: &str, json: &Value) -> Result<(), StoreError> {
        let text = json.to_string();
        let connection = self.database();
        let mut statement = connection.prepare_cached(include_str!("sql/draft_put.sql"))?;
        statement.execute(named_params! { ":job": job, ":form": form, ":json": text })?;
        Ok(())
    }

    /// Forgets a draft; one that isn't there is fine. A draft settled by a record goes with
    /// [`crate::AppendRequest::settles_draft`] instead, so that no crash can leave both.
    ///
    /// # Errors
    /// Those of the database.
    pub fn drop_draft(&self, job: &str, form: &str) -> Result<(), StoreError> {
        let drop = "DELETE FROM drafts WHERE job = ? AND form = ?";
        self.database().prepare_cached(drop)?.execute([job, form])?;
        Ok(())
    }

    /// Writes down what the app is about to do, before it hands the screen to the camera. Replaces an earlier one.
    ///
    /// # Errors
    /// Those of the database.
    pub fn keep_intent(&self, json: &Value) -> Result<(), StoreError> {
        let text = json.to_string();
        let connection = self.database();
        connection
            .prepare_cached(include_str!("sql/intent_put.sql"))?
            .execute(named_params! { ":json": text })?;
        Ok(())
    }

    /// What the app was about to do; it stays on disk until taken or settled by a record.
    ///
    /// # Errors
    /// Those of the database.
    pub fn intent(&self) -> Result<Option<Value>, StoreError> {
        self.json("SELECT json FROM intent", &[])
    }

    /// Reads the intent and drops it: for one that the user gave up. One that led to a record goes with
    /// [`crate::AppendRequest::settles_intent`] instead.
    ///
    /// # Errors
    /// Those of the database.
    pub fn take_intent(&self) -> Result<Option<Value>, StoreError> {
        let taken: Option<String> = self
            .database()
            .query_row("DELETE FROM intent RETURNING json", [], |row| row.get(0))
            .optional()?;
        Ok(taken.as_deref().map(serde_json::from_str).transpose()?)
    }

    fn json(&self, find: &str, keys: &[&dyn rusqlite::ToSql]) -> Result<Option<Value>, StoreError> {
        let text: Option<String> =
            self.database().prepare_cached(find)?.query_row(keys, |row| row.get(0)).optional()?;
        Ok(text.as_deref().map(serde_json::from_str).transpose()?)
    }
}
