//! When the camera says the picture was taken.

use chrono::{DateTime, FixedOffset, NaiveDateTime};
use serde::{Deserialize, Serialize};

/// EXIF DateTimeOriginal (with SubSecTimeOriginal) and, if the camera wrote it, OffsetTimeOriginal (CIPA DC-008).
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize)]
pub struct CaptureTime {
    /// The camera's wall clock.
    pub wall: NaiveDateTime,
    /// Minutes east of UTC; `None` if the camera did not write an offset.
    pub offset_minutes: Option<i32>,
}

impl CaptureTime {
    /// The offset as chrono has it.
    #[must_use]
    pub fn offset(&self) -> Option<FixedOffset> {
        FixedOffset::east_opt(self.offset_minutes?.checked_mul(60)?)
    }

    /// The instant, known only with an offset.
    #[must_use]
    pub fn instant(&self) -> Option<DateTime<FixedOffset>> {
        self.wall.and_local_timezone(self.offset()?).single()
    }
}

/// Reads `YYYY:MM:DD HH:MM:SS`; blanks and zeros (the standard's "unknown") give `None`.
pub(crate) fn wall_clock(text: &[u8], fraction: Option<&[u8]>) -> Option<NaiveDateTime> {
    let text = std::str::from_utf8(text).ok()?.trim_matches(['\0', ' ']);
    let fraction = fraction.and_then(digits).map(|digits| format!(".{digits}")).unwrap_or_default();
    NaiveDateTime::parse_from_str(&format!("{text}{fraction}"), "%Y:%m:%d %H:%M:%S%.f").ok()
}

/// Reads `+HH:MM`, `-HH:MM` or `Z` into minutes; offsets beyond ±14 h do not exist on Earth.
pub(crate) fn offset_minutes(text: &[u8]) -> Option<i32> {
    let text = std::str::from_utf8(text).ok()?.trim_matches(['\0', ' ']);
    if text == "Z" {
        return Some(0);
    }
    let (sign, digits) = match text.strip_prefix('-') {
        Some(digits) => (-1, digits),
        None => (1, text.strip_prefix('+')?),
    };
    let (hours, minutes) = digits.split_once(':')?;
    let two = |part: &str| (part.len() == 2).then(|| part.parse::<u8>().ok()).flatten().map(i32::from);
    let (hours, minutes) = (two(hours)?, two(minutes)?);
    let total = hours * 60 + minutes;
    (minutes < 60 && total <= 14 * 60).then_some(sign * total)
}

fn digits(text: &[u8]) -> Option<&str> {
    let text = std::str::from_utf8(text).ok()?.trim_matches(['\0', ' ']);
    (!text.is_empty() && text.len() <= 9 && text.bytes().all(|byte| byte.is_ascii_digit())).then_some(text)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn wall_clock_forms() {
        let seen = |text: &[u8], fraction| wall_clock(text, fraction).map(|time| time.to_string());
        assert_eq!(seen(b"2026:03:04 09:05:06\0", None).as_deref(), Some("2026-03-04 09:05:06"));
        assert_eq!(seen(b"2026:03:04 09:05:06", Some(b"12")).as_deref(), Some("2026-03-04 09:05:06.120"));
        assert_eq!(seen(b"2026:03:04 09:05:06", Some(b"   ")).as_deref(), Some("2026-03-04 09:05:06"));
        for unknown in
            [b"    :  :     :  :  ".as_slice(), b"0000:00:00 00:00:00", b"2026:02:30 01:00:00", b""]
        {
            assert_eq!(seen(unknown, None), None);
        }
    }

    #[test]
    fn offset_forms() {
        let cases: [(&[u8], Option<i32>); 8] = [
            (b"+05:45\0", Some(345)),
            (b"-06:00", Some(-360)),
            (b"-00:30", Some(-30)),
            (b"Z", Some(0)),
            (b"+15:00", None),
            (b"+1:00", None),
            (b"   :  ", None),
            (b"05:00", None),
        ];
        for (text, minutes) in cases {
            assert_eq!(offset_minutes(text), minutes, "{text:?}");
        }
    }
}
