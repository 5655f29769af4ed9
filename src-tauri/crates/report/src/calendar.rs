//! An appointment as a calendar file (iCalendar, RFC 5545).

use crate::words::{Language, say};
use chrono::{DateTime, Duration, Utc};
use icalendar::{Alarm, Calendar, Component, Event, EventLike};

/// How long an appointment stands in the calendar: nobody says when programming ends (judgment).
const HOURS: i64 = 1;

/// What the calendar says of an appointment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Appointment<'a> {
    /// A name that stays the same when it is written again, so that a calendar takes the newer one for it.
    pub uid: &'a str,
    /// When it is (RFC 3339).
    pub at: &'a str,
    /// When the file is written (RFC 3339).
    pub written: &'a str,
    /// The vehicle in words.
    pub vehicle: &'a str,
    /// Number of the job.
    pub number: u32,
    /// Who programs; may be empty.
    pub provider: &'a str,
    /// Minutes before it at which the interface is hooked up: the alarm.
    pub hook_up_minutes: u32,
}

/// The calendar file; nothing for a time that can't be read. Times are written in UTC: an offset is no time zone, and the
/// calendar shows the moment in the zone where it is read.
#[must_use]
pub fn appointment_calendar(appointment: &Appointment<'_>, language: Language) -> Option<String> {
    let utc = |wall: &str| DateTime::parse_from_rfc3339(wall).ok().map(|at| at.with_timezone(&Utc));
    let (at, written) = (utc(appointment.at)?, utc(appointment.written)?);
    let (number, minutes) = (appointment.number.to_string(), appointment.hook_up_minutes.to_string());
    let title = say(language, "calendar_title", &[("vehicle", appointment.vehicle), ("number", &number)]);
    let prepare = say(language, "calendar_alarm", &[("minutes", &minutes)]);
    let about = [appointment.provider, &prepare].into_iter().filter(|part| !part.is_empty());
    let before = Duration::minutes(i64::from(appointment.hook_up_minutes));
    let event = Event::with_uid(appointment.uid)
        .timestamp(written)
        .starts(at)
        .ends(at.checked_add_signed(Duration::hours(HOURS))?)
        .summary(&title)
        .description(&about.collect::<Vec<_>>().join("\n"))
        .alarm(Alarm::display(&prepare, -before))
        .done();
    let mut calendar = Calendar::new();
    calendar.append_property(("PRODID", "-//Testimeter//Appointment//EN")).push(event);
    Some(calendar.to_string())
}
