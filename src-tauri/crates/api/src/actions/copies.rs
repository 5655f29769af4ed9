//! Copies of the whole shop that were written: they can't be called back, so the app remembers what there is to look for.

use crate::view::{CopyView, WrittenFileView};
use crate::{ApiError, Workshop, settings};
use chrono::DateTime;
use serde::{Deserialize, Serialize};
use std::path::Path;

const SETTING: &str = "copies";

/// A copy as it is remembered.
#[derive(Clone, Debug, Serialize, Deserialize)]
struct Copy {
    /// `backup` or `open_export`.
    what: String,
    path: String,
    name: String,
    written: String,
    /// Of the file; of an open export, of its list of hashes.
    sha256: String,
}

impl Workshop {
    /// Remembers a copy that was just written.
    pub(crate) fn remember_copy(&self, what: &str, file: &WrittenFileView) -> Result<(), ApiError> {
        let _turn = self.store.turn();
        let mut copies = self.copies()?;
        copies.push(Copy {
            what: what.to_owned(),
            path: file.path.clone(),
            name: file.name.clone(),
            written: file.written.clone(),
            sha256: file.sha256.clone(),
        });
        Ok(self.store.set_setting(SETTING, &settings::written(SETTING, &copies)?)?)
    }

    /// Copies that may hold a job which was opened at that time (RFC 3339), oldest first.
    pub(crate) fn copies_since(&self, opened: &str) -> Result<Vec<CopyView>, ApiError> {
        let time = |wall: &str| DateTime::parse_from_rfc3339(wall).ok();
        // A time that can't be read rules nothing out.
        let may_hold = |copy: &Copy| {
            time(&copy.written).zip(time(opened)).is_none_or(|(written, opened)| written >= opened)
        };
        Ok(self.copies()?.into_iter().filter(may_hold).map(view).collect())
    }

    fn copies(&self) -> Result<Vec<Copy>, ApiError> {
        let kept = self.store.setting(SETTING)?;
        // A list that can't be read must not keep anybody from being forgotten.
        Ok(kept.and_then(|kept| settings::read(SETTING, kept).ok()).unwrap_or_default())
    }
}

fn view(copy: Copy) -> CopyView {
    CopyView {
        here: Path::new(&copy.path).exists(),
        what: copy.what,
        name: copy.name,
        path: copy.path,
        written: copy.written,
        sha256: copy.sha256,
    }
}
