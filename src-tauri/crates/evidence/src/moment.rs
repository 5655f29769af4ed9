//! When something was recorded, in three ways that contradict each other if somebody turns the clock.

use chrono::DateTime;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::{EvidenceError, naming};

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
    /// Refuses a moment that isn't written as the fields say, and a date or an hour that never was.
    ///
    /// # Errors
    /// [`EvidenceError::WrongField`].
    pub fn check(&self) -> Result<(), EvidenceError> {
        naming::demand(unix_ms(&self.wall).is_some(), "wall", "RFC 3339 with milliseconds and UTC offset")?;
        naming::identifier("boot", &self.boot)
    }
}

/// Milliseconds since 1970 of a wall clock's text; none if it isn't in the shape of [`Moment::wall`] or names
/// no moment of the Gregorian calendar. A leap second (`:60`) counts as the first one after it.
pub fn unix_ms(wall: &str) -> Option<i64> {
    if !has_our_shape(wall) {
        return None;
    }
    DateTime::parse_from_rfc3339(wall).ok().map(|moment| moment.timestamp_millis())
}

/// RFC 3339 leaves more freedom (small letters, any number of decimals, a space for the `T`); a record has one
/// spelling only.
fn has_our_shape(text: &str) -> bool {
    ["0000-00-00T00:00:00.000Z", "0000-00-00T00:00:00.000+00:00"].iter().any(|pattern| {
        text.len() == pattern.len()
            && text.bytes().zip(pattern.bytes()).all(|(byte, wanted)| match wanted {
                b'0' => byte.is_ascii_digit(),
                b'+' => byte == b'+' || byte == b'-',
                other => byte == other,
            })
    })
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
        // A leap second is the first second of the new year, as in POSIX.
        assert_eq!(unix_ms("1990-12-31T23:59:60.500Z"), Some(662_688_000_500));
    }

    #[test]
    fn only_the_one_shape_of_rfc_3339_passes() {
        let right = [
            "2031-04-05T14:03:07.250-05:00",
            "2031-04-05T14:03:07.250Z",
            "2031-04-05T14:03:07.250-00:00",
            "2031-04-05T14:03:07.250+23:59",
            "1990-12-31T23:59:60.000Z",
            "2028-02-29T00:00:00.000Z",
            "2000-02-29T00:00:00.000Z",
        ];
        for right in right {
            assert!(unix_ms(right).is_some(), "{right}");
        }
        let wrong = [
            "",
            "2031-04-05",
            "2031-04-05 14:03:07.250Z",
            "2031-04-05t14:03:07.250z",
            "2031-04-05T14:03:07Z",
            "2031-04-05T14:03:07.2500Z",
            "2031-04-05T14:03:07.250",
            "2031-04-05T14:03:07.250\"Z",
        ];
        for wrong in wrong {
            assert_eq!(unix_ms(wrong), None, "{wrong}");
        }
    }

    #[test]
    fn what_the_calendar_does_not_have_is_refused() {
        let wrong = [
            "2031-02-29T14:03:07.250Z",
            "2031-02-30T14:03:07.250Z",
            "2028-02-30T14:03:07.250Z",
            "2100-02-29T14:03:07.250Z",
            "2031-04-31T14:03:07.250Z",
            "2031-00-05T14:03:07.250Z",
            "2031-13-05T14:03:07.250Z",
            "2031-04-00T14:03:07.250Z",
            "2031-04-32T14:03:07.250Z",
            "2031-04-05T24:00:00.000Z",
            "2031-04-05T14:60:07.250Z",
            "2031-04-05T14:03:61.250Z",
            "2031-04-05T14:03:07.250+24:00",
            "2031-04-05T14:03:07.250-99:00",
            "2031-04-05T14:03:07.250+05:60",
        ];
        for wrong in wrong {
            let moment = Moment { wall: wrong.into(), elapsed_ms: 0, boot: "b".into() };
            assert!(matches!(moment.check(), Err(EvidenceError::WrongField(_))), "{wrong}");
        }
    }
}
