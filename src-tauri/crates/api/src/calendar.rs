//! An appointment as a calendar file (iCalendar, RFC 5545), by the clock on the wall where it was made.

use chrono::{DateTime, Duration, FixedOffset, Utc};
use icalendar::{Alarm, Calendar, CalendarDateTime, Component, Event, EventLike};
use report::{Language, words};

/// How long an appointment stands in the calendar: nobody says when programming ends (judgment).
const HOURS: i64 = 1;

/// What the calendar says of an appointment.
#[derive(Clone, Debug, PartialEq, Eq)]
pub(crate) struct Appointment<'a> {
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

/// The calendar file; nothing for a time that can't be read. The time is that of the wall with its offset as a zone of its
/// own (`VTIMEZONE`): what a record knows is the offset, not which region's rules it came from.
pub(crate) fn of_appointment(appointment: &Appointment<'_>, language: Language) -> Option<String> {
    let at = DateTime::parse_from_rfc3339(appointment.at).ok()?;
    let written = DateTime::parse_from_rfc3339(appointment.written).ok()?.with_timezone(&Utc);
    let (number, minutes) = (appointment.number.to_string(), appointment.hook_up_minutes.to_string());
    let say = |key: &str, values: &[(&str, &str)]| words::say(language, key, values);
    let title = say("calendar_title", &[("vehicle", appointment.vehicle), ("number", &number)]);
    let prepare = say("calendar_alarm", &[("minutes", &minutes)]);
    let about = [appointment.provider, &prepare].into_iter().filter(|part| !part.is_empty());
    let before = Duration::minutes(i64::from(appointment.hook_up_minutes));
    let event = Event::with_uid(appointment.uid)
        .timestamp(written)
        .starts(on_the_wall(at))
        .ends(on_the_wall(at.checked_add_signed(Duration::hours(HOURS))?))
        .summary(&title)
        .description(&about.collect::<Vec<_>>().join("\n"))
        .alarm(Alarm::display(&prepare, -before))
        .done();
    let mut calendar = Calendar::new();
    calendar.append_property(("PRODID", "-//Testimeter//Appointment//EN")).push(event);
    let begin = "BEGIN:VEVENT\r\n";
    Some(calendar.to_string().replacen(begin, &format!("{}{begin}", zone(at)), 1))
}

fn on_the_wall(at: DateTime<FixedOffset>) -> CalendarDateTime {
    CalendarDateTime::WithTimezone { date_time: at.naive_local(), tzid: name(at) }
}

/// A name that no list of zones has, so that no calendar takes one of its own for it.
fn name(at: DateTime<FixedOffset>) -> String {
    at.format("Offset%z").to_string()
}

/// One offset for all times: from itself to itself, since ever (RFC 5545, 3.6.5). The library has no such component yet.
fn zone(at: DateTime<FixedOffset>) -> String {
    let (name, offset) = (name(at), at.format("%z"));
    format!(
        "BEGIN:VTIMEZONE\r\nTZID:{name}\r\nBEGIN:STANDARD\r\nDTSTART:19700101T000000\r\n\
         TZOFFSETFROM:{offset}\r\nTZOFFSETTO:{offset}\r\nEND:STANDARD\r\nEND:VTIMEZONE\r\n"
    )
}
