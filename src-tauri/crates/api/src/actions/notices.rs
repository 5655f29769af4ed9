//! What opening the shop found: kept as settings, shown on the first screen until acknowledged, and on the job concerned.

use crate::view::NoticeView;
use crate::{ApiError, Workshop, settings};
use evidence::Digest;
use job::Job;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use std::sync::PoisonError;
use store::Notice;

const SETTING: &str = "notices";
/// Codes of states that last: found again at every start.
const LASTING: [&str; 5] =
    ["log_damaged", "journal_behind", "circuit_unusable", "folder_stays_open", APPOINTMENT];
/// It is over when its job no longer waits for it.
const APPOINTMENT: &str = "appointment_near";
/// Acknowledged notices that are kept: enough to look back, without growing for ever.
const ACKNOWLEDGED_KEPT: usize = 200;

/// A notice as it is kept.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Kept {
    notice: NoticeView,
    acknowledged: bool,
}

impl Workshop {
    /// Notices that nobody acknowledged yet, oldest first.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn notices_view(&self) -> Result<Vec<NoticeView>, ApiError> {
        let near = self.near_appointments();
        if !near.is_empty() {
            // Kept, so that it can be acknowledged; on a full disk it is told the next time.
            let _ = self.add_notices(near.clone());
        }
        let over =
            |kept: &Kept| kept.notice.code == APPOINTMENT && near.iter().all(|one| one.id != kept.notice.id);
        let kept = self.kept_notices()?.into_iter();
        let open = kept.filter(|kept| !kept.acknowledged && !over(kept));
        let unkept = self.unkept_notices.lock().unwrap_or_else(PoisonError::into_inner).clone();
        Ok(open.map(|kept| kept.notice).chain(unkept).collect())
    }

    /// Takes a notice off the first screen; it stays on record, and on its job.
    ///
    /// # Errors
    /// A store that can't be written to.
    pub fn notice_acknowledge(&self, id: &str) -> Result<Vec<NoticeView>, ApiError> {
        let _turn = self.store.turn();
        let mut kept = self.kept_notices()?;
        self.unkept_notices.lock().unwrap_or_else(PoisonError::into_inner).retain(|notice| notice.id != id);
        kept.iter_mut().filter(|kept| kept.notice.id == id).for_each(|kept| kept.acknowledged = true);
        self.keep_notices(kept)?;
        self.notices_view()
    }

    /// What opening found becomes notices.
    pub(crate) fn keep_notices_of_opening(&self) {
        let found: Vec<NoticeView> = self.store.notices().iter().map(|notice| self.notice(notice)).collect();
        if !found.is_empty() && self.add_notices(found.clone()).is_err() {
            // A full disk must not keep the shop shut: they are told from memory, and found again where they last.
            *self.unkept_notices.lock().unwrap_or_else(PoisonError::into_inner) = found;
        }
        self.notice_journal();
    }

    /// What reading a job or a check found becomes notices.
    pub(crate) fn notice_findings(&self) {
        self.notice_all(&self.store.take_findings());
    }

    pub(crate) fn notice_all(&self, found: &[Notice]) {
        if !found.is_empty() {
            // What was folded before may not be what the records say now.
            self.folds.drop_all();
        }
        let found: Vec<NoticeView> = found.iter().map(|notice| self.notice(notice)).collect();
        if !found.is_empty() && self.add_notices(found.clone()).is_err() {
            self.unkept_notices.lock().unwrap_or_else(PoisonError::into_inner).extend(found);
        }
    }

    /// The newest records may stand in the database alone: said once, until it is acknowledged or heals.
    pub(crate) fn notice_journal(&self) {
        if let Some(trouble) = self.store.journal_trouble() {
            let notice = self.found("journal_behind", "", [("detail", trouble)]);
            // Where this can't be kept either, the disk is full or gone, and the action itself has said so.
            let _ = self.add_notices(vec![notice]);
        }
    }

    /// A record was kept, but its checkpoint could not be signed.
    pub(crate) fn notice_unsigned(&self, job: &str, error: &ApiError) {
        let notice = self.found("checkpoint_not_signed", job, [("detail", error.to_string())]);
        let _ = self.add_notices(vec![notice]);
    }

    /// Everything noticed about a job: what was found when the shop was opened, and what of it can't be used.
    pub(crate) fn notices_of(
        &self,
        id: &str,
        job: &Job,
        refused: Option<String>,
    ) -> Result<Vec<NoticeView>, ApiError> {
        let kept = self.kept_notices()?.into_iter().map(|kept| kept.notice);
        let mut notices: Vec<NoticeView> =
            kept.filter(|notice| notice.job == id && notice.code != APPOINTMENT).collect();
        notices.extend(self.near_appointment(id, job));
        for record in job.unusable() {
            let values = [
                ("number", record.sequence.saturating_add(1).to_string()),
                ("kind", record.kind.clone()),
                ("detail", record.unusable.clone()),
            ];
            let notice = self.found("record_unusable", id, values);
            notices.push(NoticeView { id: record.record.to_string(), found: record.wall.clone(), ..notice });
        }
        let (own, others): (Vec<_>, Vec<_>) =
            job.not_vouched().partition(|record| self.is_own(&record.device));
        for (code, records) in [("records_not_vouched", own), ("records_of_stranger", others)] {
            if let Some(first) = records.first() {
                let values = [
                    ("first", first.sequence.saturating_add(1).to_string()),
                    ("records", records.len().to_string()),
                ];
                let notice = self.found(code, id, values);
                notices.push(NoticeView { id: format!("{code}-{}", first.record), ..notice });
            }
        }
        if let Some(detail) = refused {
            notices.push(self.found("circuit_unusable", id, [("detail", detail)]));
        }
        Ok(notices)
    }

    fn is_own(&self, device: &str) -> bool {
        self.shop().is_ok_and(|shop| shop.device_id == device)
    }

    fn notice(&self, notice: &Notice) -> NoticeView {
        match notice {
            Notice::DatabaseMovedAside { to } => {
                self.found("database_moved_aside", "", [("path", to.display().to_string())])
            }
            Notice::LogDamaged { log, why } => {
                self.found("log_damaged", &job_of(log), [("log", log.clone()), ("detail", (*why).clone())])
            }
            Notice::DatabaseRebuilt(rebuilt) => {
                let records: u64 = rebuilt.logs.iter().map(|log| log.records).sum();
                let lost: u64 = rebuilt.logs.iter().map(|log| log.lost).sum();
                let values = [
                    ("logs", rebuilt.logs.len().to_string()),
                    ("records", records.to_string()),
                    ("lost", lost.to_string()),
                ];
                self.found("database_rebuilt", "", values)
            }
            Notice::RecordsRecovered { log, records, left_behind, complaint } => {
                let detail = complaint.clone().unwrap_or_default();
                let values = [
                    ("records", records.to_string()),
                    ("left_behind", left_behind.to_string()),
                    ("detail", detail),
                ];
                self.found("records_recovered", &job_of(log), values)
            }
            Notice::JournalDiffers { log, to } => {
                self.found("journal_differs", &job_of(log), [("path", to.display().to_string())])
            }
            Notice::LogMended { log, records, values } => {
                let values = [("records", records.to_string()), ("values", values.to_string())];
                self.found("log_mended", &job_of(log), values)
            }
            Notice::NotVouched { log, records, to } => {
                let values = [("records", records.to_string()), ("path", to.display().to_string())];
                self.found("records_set_aside", &job_of(log), values)
            }
            Notice::OriginalsLost { damaged, missing } => {
                let values = [("damaged", damaged.len().to_string()), ("missing", missing.len().to_string())];
                self.found("originals_lost", "", values)
            }
            Notice::KeysBelieved { keys } => self.found("keys_believed", "", [("keys", keys.to_string())]),
            Notice::ForgettingNotOurs => self.found("forgetting_not_ours", "", []),
            Notice::KeyListLost => self.found("key_list_lost", "", []),
            Notice::PublicKeyReplaced => self.found("public_key_replaced", "", []),
            Notice::FolderExposed { files, closed } => {
                let code = if *closed { "folder_was_open" } else { "folder_stays_open" };
                self.found(code, "", [("files", files.to_string())])
            }
            Notice::ForgettingFinished => self.found("forgetting_finished", "", []),
            Notice::LeftoversSwept { files } => {
                self.found("leftovers_swept", "", [("files", files.to_string())])
            }
        }
    }

    /// A notice with its id. A state that lasts has the same id at every start, so that it is said once.
    pub(crate) fn found<const N: usize>(
        &self,
        code: &str,
        job: &str,
        values: [(&'static str, String); N],
    ) -> NoticeView {
        let values: BTreeMap<String, String> =
            values.into_iter().map(|(name, value)| (name.to_owned(), value)).collect();
        let found = self.clock.moment().wall;
        let once = if LASTING.contains(&code) { "" } else { found.as_str() };
        let id = Digest::of(format!("{code} {job} {once} {values:?}").as_bytes()).to_string();
        let id = id.chars().take(16).collect();
        NoticeView { id, code: code.to_owned(), values, job: job.to_owned(), found }
    }

    fn add_notices(&self, found: Vec<NoticeView>) -> Result<(), ApiError> {
        let mut kept = self.kept_notices()?;
        let before = kept.len();
        for notice in found {
            if kept.iter().all(|known| known.notice.id != notice.id) {
                kept.push(Kept { notice, acknowledged: false });
            }
        }
        if kept.len() == before { Ok(()) } else { self.keep_notices(kept) }
    }

    fn kept_notices(&self) -> Result<Vec<Kept>, ApiError> {
        let kept = self.store.setting(SETTING)?;
        // A list that can't be read tells nothing, and must shut neither the shop nor a job.
        Ok(kept.and_then(|kept| settings::read(SETTING, kept).ok()).unwrap_or_default())
    }

    fn keep_notices(&self, mut kept: Vec<Kept>) -> Result<(), ApiError> {
        let mut surplus =
            kept.iter().filter(|kept| kept.acknowledged).count().saturating_sub(ACKNOWLEDGED_KEPT);
        kept.retain(|kept| {
            let goes = kept.acknowledged && surplus > 0;
            surplus = surplus.saturating_sub(usize::from(goes));
            !goes
        });
        Ok(self.store.set_setting(SETTING, &settings::written(SETTING, &kept)?)?)
    }
}

/// The job of a log's origin.
fn job_of(origin: &str) -> String {
    origin.rsplit('/').nth(1).unwrap_or_default().to_owned()
}
