//! Doubts about records, mostly about clocks: shown on the time-line, in the packet and in the report, never silently corrected.

use crate::event::{Event, PhotoKept};
use chrono::{DateTime, FixedOffset, NaiveDateTime};
use evidence::Record;

/// Something about a record, mostly about its time, that a reader should know.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub enum RecordDoubt {
    /// The wall clock went back against the record before it.
    ClockSetBack,
    /// Wall clock and elapsed time disagree by more than a minute although the device was not started anew.
    ClockJumped,
    /// The photo holds no time.
    NoCaptureTime,
    /// The photo's time lies after the time it was kept.
    CaptureTimeInFuture,
    /// The photo's time and the clock are more than a minute apart, for a photo that should just have been taken.
    CaptureTimeFarFromClock,
    /// The photo's file stops before the picture's end: a part of it is missing.
    PictureCutOff,
    /// The record holds what none may hold: the job goes on without it.
    Unusable,
    /// No key that is known here signed for the record: the job goes on without it.
    NotVouched,
    /// Nobody signed for the record when it was sealed; its owner took it in later.
    SignedLater,
}

impl RecordDoubt {
    /// Code for the words.
    pub fn code(self) -> &'static str {
        match self {
            RecordDoubt::ClockSetBack => "clock_set_back",
            RecordDoubt::ClockJumped => "clock_jumped",
            RecordDoubt::NoCaptureTime => "no_capture_time",
            RecordDoubt::CaptureTimeInFuture => "capture_time_in_future",
            RecordDoubt::CaptureTimeFarFromClock => "capture_time_far_from_clock",
            RecordDoubt::PictureCutOff => PICTURE_CUT_OFF,
            RecordDoubt::Unusable => "record_unusable",
            RecordDoubt::NotVouched => "record_not_vouched",
            RecordDoubt::SignedLater => "record_signed_later",
        }
    }
}

/// In a photo's record, and for the words.
pub const PICTURE_CUT_OFF: &str = "picture_cut_off";
/// Disagreement that is still called the same time.
const A_MINUTE_MS: i64 = 60_000;

/// Doubts about `record`, given the one before it in the job.
pub fn of_record(record: &Record, before: Option<&Record>, event: Option<&Event>) -> Vec<RecordDoubt> {
    let mut doubts = Vec::new();
    if let Some(doubt) = before.and_then(|b| clock_doubt(record, b)) {
        doubts.push(doubt);
    }
    match event {
        // A live frame carries no time of its own: it was taken when it was kept.
        Some(Event::PhotoKept(photo)) if photo.live && photo.taken.is_empty() => doubts.extend(found(photo)),
        Some(Event::PhotoKept(photo)) => {
            doubts.extend(capture_doubt(&photo.taken, &record.wall).into_iter().chain(found(photo)));
        }
        Some(_) => {}
        None => doubts.push(RecordDoubt::Unusable),
    }
    doubts
}

/// What was found in the photo's bytes when it was kept. Codes of later versions are passed over.
fn found(photo: &PhotoKept) -> Option<RecordDoubt> {
    let cut_off = photo.doubts.iter().any(|code| code == PICTURE_CUT_OFF);
    cut_off.then_some(RecordDoubt::PictureCutOff)
}

fn clock_doubt(record: &Record, before: &Record) -> Option<RecordDoubt> {
    let wall = wall_ms(&record.wall)?.checked_sub(wall_ms(&before.wall)?)?;
    if wall < 0 {
        return Some(RecordDoubt::ClockSetBack);
    }
    // A new boot is stated by its id, not doubted: elapsed time starts anew with it.
    if record.boot != before.boot || record.device != before.device {
        return None;
    }
    let elapsed = i64::try_from(record.elapsed_ms.checked_sub(before.elapsed_ms)?).ok()?;
    (wall.abs_diff(elapsed) > A_MINUTE_MS.unsigned_abs()).then_some(RecordDoubt::ClockJumped)
}

fn capture_doubt(taken: &str, wall: &str) -> Option<RecordDoubt> {
    if taken.is_empty() {
        return Some(RecordDoubt::NoCaptureTime);
    }
    let kept = DateTime::parse_from_rfc3339(wall).ok()?;
    let taken = capture_ms(taken, *kept.offset())?;
    let ahead = taken.checked_sub(kept.timestamp_millis())?;
    if ahead > A_MINUTE_MS {
        Some(RecordDoubt::CaptureTimeInFuture)
    } else if ahead < -A_MINUTE_MS {
        Some(RecordDoubt::CaptureTimeFarFromClock)
    } else {
        None
    }
}

/// Milliseconds of a capture time; one without offset is taken to be in the offset of the device's clock.
fn capture_ms(taken: &str, offset: FixedOffset) -> Option<i64> {
    if let Ok(time) = DateTime::parse_from_rfc3339(taken) {
        return Some(time.timestamp_millis());
    }
    let local = NaiveDateTime::parse_from_str(taken, "%Y-%m-%dT%H:%M:%S").ok()?;
    local.and_local_timezone(offset).single().map(|t| t.timestamp_millis())
}

fn wall_ms(wall: &str) -> Option<i64> {
    DateTime::parse_from_rfc3339(wall).ok().map(|t| t.timestamp_millis())
}
