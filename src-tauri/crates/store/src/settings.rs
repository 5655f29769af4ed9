use std::fs;

use rusqlite::{OptionalExtension, named_params};
use serde_json::{Map, Value};

use crate::disk::{Keeping, keep};
use crate::{Access, Store, StoreError};

impl Store {
    /// A stored setting, or `None` when it was never set.
    ///
    /// # Errors
    /// Those of the database.
    pub fn setting(&self, key: &str) -> Result<Option<Value>, StoreError> {
        let find = "SELECT json FROM settings WHERE key = ?";
        self.json(find, &[&key])
    }

    /// Sets a setting durably, in the database and in the file `settings.json` beside it.
    ///
    /// # Errors
    /// Those of the database.
    pub fn set_setting(&self, key: &str, json: &Value) -> Result<(), StoreError> {
        let text = json.to_string();
        {
            let connection = self.database();
            let mut statement = connection.prepare_cached(include_str!("sql/setting_put.sql"))?;
            statement.execute(named_params! { ":key": key, ":json": text })?;
        }
        // The database has it; the file is made up for at the next setting or start.
        let _ = self.mirror_settings();
        Ok(())
    }

    /// Every setting by its key.
    ///
    /// # Errors
    /// Those of the database.
    pub fn settings(&self) -> Result<Map<String, Value>, StoreError> {
        let connection = self.database();
        let mut statement = connection.prepare_cached("SELECT key, json FROM settings ORDER BY key")?;
        let rows = statement.query_map([], |row| Ok((row.get(0)?, row.get::<_, String>(1)?)))?;
        let mut settings = Map::new();
        for row in rows {
            let (key, json): (String, String) = row?;
            settings.insert(key, serde_json::from_str(&json)?);
        }
        Ok(settings)
    }

    /// Writes the settings beside the database where the file doesn't say the same: without the shop's and the
    /// device's id, a rebuilt database could not go on.
    pub(crate) fn mirror_settings(&self) -> Result<(), StoreError> {
        let settings = self.settings()?;
        let (path, text) = (self.folder.settings(), serde_json::to_string_pretty(&settings)?);
        if settings.is_empty() || fs::read_to_string(&path).is_ok_and(|kept| kept == text) {
            return Ok(());
        }
        let temporary = self.folder.temporary();
        let folders = [self.folder.root()];
        let keeping =
            Keeping { temporary: &temporary, target: &path, access: Access::OwnerOnly, folders: &folders };
        keep(self.disk.as_ref(), &keeping, text.as_bytes())
    }

    /// Brings back the settings that the file beside the database holds and the database doesn't.
    pub(crate) fn take_mirrored_settings(&self) -> Result<u64, StoreError> {
        let text = fs::read(self.folder.settings()).unwrap_or_default();
        let Ok(Value::Object(mirrored)) = serde_json::from_slice(&text) else { return Ok(0) };
        let known = self.settings()?;
        let lost: Vec<_> = mirrored.iter().filter(|(key, _)| !known.contains_key(*key)).collect();
        for (key, value) in &lost {
            let connection = self.database();
            let mut statement = connection.prepare_cached(include_str!("sql/setting_put.sql"))?;
            statement.execute(named_params! { ":key": key, ":json": value.to_string() })?;
        }
        Ok(lost.len() as u64)
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
