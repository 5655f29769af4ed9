//! GeneralizedTime with fractions of a second, as tokens have it (RFC 3161 section 2.4.2).

use super::TimestampError;
use crate::calendar::{date, days};

/// A moment in UTC.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Moment {
    /// Milliseconds since 1970-01-01, leap seconds not counted.
    pub unix_ms: i64,
}

impl Moment {
    /// Reads `YYYYMMDDhhmmss[.fff]Z`; below a millisecond it is cut off.
    pub fn parse(content: &[u8]) -> Result<Self, TimestampError> {
        read(content).ok_or(TimestampError::Malformed("its time is not in the form of RFC 3161"))
    }

    /// Whole seconds since 1970.
    pub fn unix_seconds(&self) -> u64 {
        u64::try_from(self.unix_ms.div_euclid(1000)).unwrap_or_default()
    }

    /// RFC 3339 in UTC, with milliseconds only if there are some.
    pub fn rfc3339(&self) -> String {
        let (days, ms) = (self.unix_ms.div_euclid(86_400_000), self.unix_ms.rem_euclid(86_400_000));
        let (year, month, day) = date(days);
        let (hour, minute, second) = (ms / 3_600_000, ms / 60_000 % 60, ms / 1000 % 60);
        let fraction = if ms % 1000 == 0 { String::new() } else { format!(".{:03}", ms % 1000) };
        format!("{year:04}-{month:02}-{day:02}T{hour:02}:{minute:02}:{second:02}{fraction}Z")
    }
}

fn read(content: &[u8]) -> Option<Moment> {
    let text = std::str::from_utf8(content).ok()?.strip_suffix('Z')?;
    let (whole, fraction) = text.split_once('.').unwrap_or((text, "0"));
    let digits = |part: &str| part.bytes().all(|byte| byte.is_ascii_digit());
    if whole.len() != 14 || !digits(whole) || fraction.is_empty() || !digits(fraction) {
        return None;
    }
    let part = |from: usize, to: usize| whole.get(from..to)?.parse::<i64>().ok();
    let (year, month, day) = (part(0, 4)?, part(4, 6)?, part(6, 8)?);
    let (hour, minute, second) = (part(8, 10)?, part(10, 12)?, part(12, 14)?);
    let days = days(year, month, day);
    // Only real dates survive the way there and back.
    let fits = date(days) == (year, month, day) && hour < 24 && minute < 60 && second <= 60;
    let ms: i64 = format!("{fraction:0<3}").get(..3)?.parse().ok()?;
    fits.then_some(Moment { unix_ms: (((days * 24 + hour) * 60 + minute) * 60 + second) * 1000 + ms })
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
        ];
        for (text, unix_ms, printed) in samples {
            let moment = Moment::parse(text.as_bytes()).unwrap();
            assert_eq!((moment.unix_ms, moment.rfc3339().as_str()), (unix_ms, printed));
        }
        for wrong in ["", "Z", "20310230000000Z", "20311301000000Z", "20310405140307", "2031040514030é"] {
            assert!(Moment::parse(wrong.as_bytes()).is_err(), "{wrong}");
        }
    }
}
