//! When something was recorded, in three ways that contradict each other if somebody turns the clock.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{EvidenceError, calendar, naming};

/// A moment as the device saw it.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
pub struct Moment {
    /// Wall clock, RFC 3339 with milliseconds and offset from UTC: `2031-04-05T14:03:07.250-05:00` (or `Z`).
    pub wall: String,
    /// Milliseconds since the device started, sleep included.
    pub elapsed_ms: u64,
    /// Which start of the device this is; a new one explains a smaller `elapsed_ms`.
    pub boot: String,
}

impl Moment {
    /// Refuses a moment that isn't written as the fields say.
    pub fn check(&self) -> Result<(), EvidenceError> {
        naming::demand(is_wall(&self.wall), "wall", "RFC 3339 with milliseconds and UTC offset")?;
        naming::identifier("boot", &self.boot)
    }
}

/// Milliseconds since 1970 of a wall clock's text; none if it isn't in the shape of [`Moment::wall`].
pub fn unix_ms(wall: &str) -> Option<i64> {
    if !is_wall(wall) {
        return None;
    }
    let part = |from: usize, to: usize| wall.get(from..to)?.parse::<i64>().ok();
    let days = calendar::days(part(0, 4)?, part(5, 7)?, part(8, 10)?);
    let minutes = (days * 24 + part(11, 13)?) * 60 + part(14, 16)?;
    let utc = (minutes * 60 + part(17, 19)?) * 1000 + part(20, 23)?;
    if wall.ends_with('Z') {
        return Some(utc);
    }
    let ahead = (part(24, 26)? * 60 + part(27, 29)?) * 60_000;
    Some(if wall.get(23..24)? == "-" { utc + ahead } else { utc - ahead })
}

/// Whether `text` has the one shape of RFC 3339 we write, with every part in its range.
fn is_wall(text: &str) -> bool {
    let shape = |pattern: &str| {
        text.len() == pattern.len()
            && text.bytes().zip(pattern.bytes()).all(|(byte, wanted)| match wanted {
                b'0' => byte.is_ascii_digit(),
                b'+' => byte == b'+' || byte == b'-',
                other => byte == other,
            })
    };
    let utc = shape("0000-00-00T00:00:00.000Z");
    let offset = shape("0000-00-00T00:00:00.000+00:00");
    let within = |at: usize, low: u8, high: u8| {
        text.get(at..at + 2).and_then(|part| part.parse().ok()).is_some_and(|v: u8| (low..=high).contains(&v))
    };
    (utc || (offset && within(24, 0, 23) && within(27, 0, 59)))
        && within(5, 1, 12)
        && within(8, 1, 31)
        && within(11, 0, 23)
        && within(14, 0, 59)
        && within(17, 0, 60)
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Milliseconds from coreutils: `date -u -d 2031-04-05T14:03:07.250-05:00 +%s%3N`.
    #[test]
    fn wall_times_count_from_1970_in_utc() {
        assert_eq!(unix_ms("2031-04-05T14:03:07.250-05:00"), Some(1_933_182_187_250));
        assert_eq!(unix_ms("2031-04-05T14:03:07.250Z"), Some(1_933_164_187_250));
        assert_eq!(unix_ms("2031-04-05T14:03:07.250+05:30"), Some(1_933_144_387_250));
        assert_eq!(unix_ms("2031-04-05"), None);
    }

    #[test]
    fn only_the_one_shape_of_rfc_3339_passes() {
        for right in ["2031-04-05T14:03:07.250-05:00", "2031-04-05T14:03:07.250Z", "1990-12-31T23:59:60.000Z"]
        {
            assert!(is_wall(right), "{right}");
        }
        let wrong = [
            "",
            "2031-04-05 14:03:07.250Z",
            "2031-04-05T14:03:07Z",
            "2031-04-05T14:03:07.250",
            "2031-13-05T14:03:07.250Z",
            "2031-04-05T24:03:07.250Z",
            "2031-04-05T14:03:07.250+05:60",
            "2031-04-05T14:03:07.250\"Z",
        ];
        for wrong in wrong {
            assert!(!is_wall(wrong), "{wrong}");
        }
    }
}
