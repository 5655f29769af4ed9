//! GeneralizedTime with fractions of a second, as tokens have it (RFC 3161 section 2.4.2).

use chrono::{DateTime, NaiveDateTime, SecondsFormat, Utc};

use super::TimestampError;

/// A moment in UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment {
    /// Milliseconds since 1970-01-01, leap seconds not counted.
    pub unix_ms: i64,
}

impl Moment {
    /// Reads `YYYYMMDDhhmmss[.fff]Z`; below a millisecond it is cut off. A leap second counts as the first one
    /// after it.
    ///
    /// # Errors
    /// [`TimestampError::Malformed`] for another shape, and for a date or an hour that never was.
    pub fn parse(content: &[u8]) -> Result<Self, TimestampError> {
        read(content).ok_or(TimestampError::Malformed("its time is not in the form of RFC 3161"))
    }

    /// Whole seconds since 1970.
    pub fn unix_seconds(&self) -> u64 {
        u64::try_from(self.unix_ms.div_euclid(1000)).unwrap_or_default()
    }

    /// RFC 3339 in UTC, with milliseconds only if there are some. What lies beyond the calendar, as no token or
    /// certificate can state it, is shown as its last moment.
    pub fn rfc3339(&self) -> String {
        let moment = DateTime::from_timestamp_millis(self.unix_ms).unwrap_or(DateTime::<Utc>::MAX_UTC);
        let whole = self.unix_ms.rem_euclid(1000) == 0;
        moment.to_rfc3339_opts(if whole { SecondsFormat::Secs } else { SecondsFormat::Millis }, true)
    }
}

fn read(content: &[u8]) -> Option<Moment> {
    let text = std::str::from_utf8(content).ok()?.strip_suffix('Z')?;
    let (whole, fraction) = text.split_once('.').unwrap_or((text, "0"));
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.len() != 14 || !digits(whole) || fraction.is_empty() || !digits(fraction) {
        return None;
    }
    let moment = NaiveDateTime::parse_from_str(whole, "%Y%m%d%H%M%S").ok()?.and_utc();
    let ms: i64 = format!("{fraction:0<3}").get(..3)?.parse().ok()?;
    Some(Moment { unix_ms: moment.timestamp_millis().checked_add(ms)? })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// Seconds from coreutils: `date -u -d 2031-04-05T14:03:07Z +%s` and so on.
    #[test]
    fn times_read_and_print_as_date_has_them() {
        let samples = [
            ("20310405140307Z", 1_933_164_187_000, "2031-04-05T14:03:07Z"),
            ("19700101000000Z", 0, "1970-01-01T00:00:00Z"),
            ("20000229235959.25Z", 951_868_799_250, "2000-02-29T23:59:59.250Z"),
            ("20000229235959.2567Z", 951_868_799_256, "2000-02-29T23:59:59.256Z"),
            ("19901231235960Z", 662_688_000_000, "1991-01-01T00:00:00Z"),
        ];
        for (text, unix_ms, printed) in samples {
            let moment = Moment::parse(text.as_bytes()).unwrap();
            assert_eq!((moment.unix_ms, moment.rfc3339().as_str()), (unix_ms, printed));
        }
        let wrong = [
            "",
            "Z",
            "20310405140307",
            "2031040514030é",
            "20310405140307.Z",
            "2031040514030Z",
            "20310405 40307Z",
            "20310405140307+0100",
            "20310230000000Z",
            "21000229000000Z",
            "20311301000000Z",
            "20310405240000Z",
            "20310405146000Z",
            "20310405140361Z",
        ];
        for wrong in wrong {
            assert!(Moment::parse(wrong.as_bytes()).is_err(), "{wrong}");
        }
    }
}
