//! Numbers and times as the two languages write them in the United States.
//!
//! Only these two are needed outside the screens, so they are written here after Unicode CLDR 48 (`en-US` and `es-US`,
//! `timeFormats/short` and `percentFormats`), which the screens get from the browser's `Intl`.

use crate::Language;

/// Time of day, hours 0 to 23 and minutes: "9:14 AM", "9:14 a.m.".
pub fn clock(language: Language, hour: u32, minute: u32) -> String {
    let half = match (language, hour % 24 < 12) {
        (Language::English, true) => "AM",
        (Language::English, false) => "PM",
        (Language::Spanish, true) => "a.m.",
        (Language::Spanish, false) => "p.m.",
    };
    let hour = match hour % 12 {
        0 => 12,
        other => other,
    };
    // A space that doesn't break: the half of the day stays with its time.
    format!("{hour}:{minute:02}\u{a0}{half}")
}

/// Whole percent of a share between 0 and 1: "97%". The ends never read as certain or impossible.
pub fn percent(share: f64) -> String {
    if share > 0.99 {
        return ">99%".to_owned();
    }
    if share < 0.01 {
        return "<1%".to_owned();
    }
    format!("{:.0}%", share * 100.0)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_clock_has_twelve_hours() {
        let said: Vec<String> =
            [(0, 5), (9, 14), (12, 0), (23, 59)].map(|(h, m)| clock(Language::English, h, m)).into();
        assert_eq!(said, ["12:05\u{a0}AM", "9:14\u{a0}AM", "12:00\u{a0}PM", "11:59\u{a0}PM"]);
        assert_eq!(clock(Language::Spanish, 15, 40), "3:40\u{a0}p.m.");
    }

    #[test]
    fn a_share_never_reads_as_certain_or_impossible() {
        assert_eq!([percent(1.0), percent(0.97), percent(0.0)], [">99%", "97%", "<1%"]);
    }
}
