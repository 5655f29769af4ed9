//! The appointment of a job: as a file for a calendar, and as a notice when it is near.

use crate::calendar::{self, Appointment};
use crate::view::NoticeView;
use crate::{ApiError, Workshop};
use chrono::{DateTime, Duration};
use job::{Job, Waiting};
use store::JobMark;

/// A notice stands from so many hours before an appointment on.
const NEAR_HOURS: i64 = 24;
/// Jobs with an appointment that are looked at for the first screen, newest change first.
const LOOKED_AT: u32 = 20;

impl Workshop {
    /// Writes the appointment of a job as a calendar file into the exports folder and gives its path. Written again, it has
    /// the same name inside, so that a calendar takes it for the same appointment.
    ///
    /// # Errors
    /// No appointment with a time zone; a folder that can't be written to.
    pub fn appointment_export(&self, job: &str) -> Result<String, ApiError> {
        let loaded = self.load(job)?;
        let none = || ApiError::refused("no_appointment");
        let decided = loaded.job.programming_decision().ok_or_else(none)?;
        let (preferences, settings) = (self.shop_view()?.preferences, self.programming_settings_kept()?);
        let spanish = preferences.language == "es";
        let language = if spanish { report::Language::Spanish } else { report::Language::English };
        let row = crate::show::summary(job, &loaded.job).row;
        let file = calendar::of_appointment(
            &Appointment {
                uid: &format!("{job}@testimeter"),
                at: &decided.event.appointment_at,
                written: &self.clock.moment().wall,
                vehicle: &row.vehicle,
                number: loaded.job.opened.number,
                provider: &decided.event.provider,
                hook_up_minutes: settings.hook_up_minutes(),
            },
            language,
        );
        let name = format!("job-{:04}-appointment.ics", loaded.job.opened.number);
        self.export_file(&name, file.ok_or_else(none)?.as_bytes())?;
        Ok(self.export_folder().join(name).display().to_string())
    }

    /// A notice of the appointment that a job waits for, where it is near or past. It is of the time of the appointment.
    pub(crate) fn near_appointment(&self, id: &str, job: &Job) -> Option<NoticeView> {
        let now = DateTime::parse_from_rfc3339(&self.clock.moment().wall).ok()?;
        let mut waits = Waiting::of(job).into_iter();
        let wait = waits.find(|wait| wait.what == Waiting::Appointment)?;
        let due = DateTime::parse_from_rfc3339(&wait.due).ok()?;
        let near = due.signed_duration_since(now) <= Duration::hours(NEAR_HOURS);
        let number = job.opened.number.to_string();
        let notice = self.found("appointment_near", id, [("number", number), ("due", wait.due.clone())]);
        near.then_some(NoticeView { found: wait.due, ..notice })
    }

    /// Appointments that are near, of all jobs. One that can't be read shuts nothing.
    pub(crate) fn near_appointments(&self) -> Vec<NoticeView> {
        let waiting = Some(JobMark::Waiting(Waiting::Appointment.code()));
        let rows =
            self.store.jobs_with(waiting, "", LOOKED_AT, None).map(|page| page.rows).unwrap_or_default();
        let near = |row: store::JobRow| self.near_appointment(&row.job, &self.load(&row.job).ok()?.job);
        rows.into_iter().filter_map(near).collect()
    }
}
