//! The number that a reading's photo was read as: how it is proposed, and when what was typed contradicts it.
//!
//! The display's unit isn't read, so that a number stands for itself in every unit of its quantity: `6.02` on the display
//! is no contradiction to 6020 ohms.

use crate::event::{ReadingKept, SeenDecision, SeenOnPhoto};
use crate::measured::{Measured, MeasuredError, Unit, in_base_unit};
use crate::meter_mode::MeterMode;
use crate::refused::{Permission, Refused};
use evidence::Digest;
use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// From this probability on, in thousandths, a number is shown as read, and what contradicts it is asked about.
pub const SURE: u32 = 990;
/// From this one on it is shown as a guess; below nothing is shown.
pub const POSSIBLE: u32 = 500;

/// A number read from a photo.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct SeenNumber {
    /// As the display writes it: `6.02`, `039.5`, `OL`.
    pub value: String,
    /// Probability in thousandths, rounded down.
    pub certainty: u32,
    /// The digits lie within half a digit of the picture's edge: one may have been cut off.
    pub at_edge: bool,
}

/// What the number is proposed for.
#[derive(Clone, Copy, Debug)]
pub struct Asked<'a> {
    /// What the meter is set to.
    pub mode: MeterMode,
    /// Unit of the reading.
    pub unit: Unit,
    /// Highest value of a range chosen by hand, in that unit; else empty.
    pub range: &'a str,
    /// Most digits that this meter has shown in the shop; 0 where nobody knows.
    pub most_digits: usize,
}

/// How surely a number is proposed.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum SeenSays {
    /// The photo shows it.
    Shows,
    /// The photo may show it: to be looked at.
    MayShow,
    /// Nothing that could be proposed.
    Nothing,
}

/// Why a number that was read surely is to be looked at all the same.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum SeenLook {
    /// It touches the picture's edge.
    AtEdge,
    /// It begins with a minus.
    Minus,
    /// It has fewer digits than this meter has shown before.
    FewerDigits,
}

/// What doesn't fit between the number and the reading it is for.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum SeenRemark {
    /// Over the limit, on ohms: open, or more than the range shows.
    OverLimitOhms,
    /// Over the limit elsewhere: more than the range shows.
    OverLimit,
    /// Above the range that was chosen by hand.
    AboveRange,
    /// Beyond what a hand-held meter shows in this unit.
    BeyondUnit,
}

/// A number as it is proposed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct Proposal {
    /// As a record would spell it; empty with [`SeenSays::Nothing`].
    pub value: String,
    /// How surely.
    pub says: SeenSays,
    /// Why it is to be looked at, although it was read surely.
    pub look: Vec<SeenLook>,
    /// What doesn't fit.
    pub remark: Option<SeenRemark>,
}

/// What a number that was read is proposed as.
#[must_use]
pub fn proposal(seen: Option<&SeenNumber>, asked: &Asked<'_>) -> Proposal {
    let nothing = Proposal { value: String::new(), says: SeenSays::Nothing, look: Vec::new(), remark: None };
    let Some(seen) = seen.filter(|seen| seen.certainty >= POSSIBLE && !asked.mode.is_answered()) else {
        return nothing;
    };
    let Some(value) = spelled(&seen.value) else { return nothing };
    let look = looks(seen, &value, asked);
    let sure = seen.certainty >= SURE && look.is_empty();
    let remark = remark(&value, asked);
    Proposal { value, says: if sure { SeenSays::Shows } else { SeenSays::MayShow }, look, remark }
}

/// A display's number as a record spells it, whatever its unit; nothing for what no record holds.
fn spelled(shown: &str) -> Option<String> {
    // The unit with the widest limit: whether the size fits the reading's own is a remark.
    Measured::parse(shown, Unit::Ohm).ok().map(|measured| measured.text().to_owned())
}

fn looks(seen: &SeenNumber, value: &str, asked: &Asked<'_>) -> Vec<SeenLook> {
    let fewer = is_number(value) && digits(&seen.value).max(digits(value)) < asked.most_digits;
    let reasons = [
        (seen.at_edge, SeenLook::AtEdge),
        (seen.value.starts_with('-'), SeenLook::Minus),
        (fewer, SeenLook::FewerDigits),
    ];
    reasons.into_iter().filter_map(|(holds, reason)| holds.then_some(reason)).collect()
}

fn remark(value: &str, asked: &Asked<'_>) -> Option<SeenRemark> {
    if !is_number(value) {
        let ohms = asked.mode == MeterMode::Ohms;
        return Some(if ohms { SeenRemark::OverLimitOhms } else { SeenRemark::OverLimit });
    }
    if matches!(Measured::parse(value, asked.unit), Err(MeasuredError::OutOfRange { .. })) {
        return Some(SeenRemark::BeyondUnit);
    }
    let size = in_base_unit(value, asked.unit)?;
    let range = in_base_unit(&asked.range.trim().replace(',', "."), asked.unit)?;
    (size.abs() > range).then_some(SeenRemark::AboveRange)
}

/// Digits of a number as it is written.
#[must_use]
pub fn digits(number: &str) -> usize {
    number.bytes().filter(u8::is_ascii_digit).count()
}

fn is_number(value: &str) -> bool {
    value.bytes().any(|byte| byte.is_ascii_digit())
}

/// What the record keeps of a proposal. `taken` says that it was taken over with a tap, `against` that the technician was
/// asked about the contradiction and keeps it.
#[must_use]
pub fn on_record(
    seen: &SeenNumber,
    photo: Digest,
    reading: &ReadingKept,
    taken: bool,
    against: bool,
) -> SeenOnPhoto {
    let same = spelled(&seen.value).is_some_and(|value| entered(reading).any(|number| *number == value));
    let decision = match (taken, same) {
        (true, true) => SeenDecision::Taken,
        (true, false) => SeenDecision::Corrected,
        (false, _) => SeenDecision::Ignored,
    };
    let kept = SeenOnPhoto {
        photo,
        value: seen.value.clone(),
        certainty: seen.certainty,
        decision,
        kept_against: false,
    };
    SeenOnPhoto { kept_against: against && contradicts(reading, &kept), ..kept }
}

/// The numbers of a reading that were entered.
fn entered(reading: &ReadingKept) -> impl Iterator<Item = &String> {
    [&reading.value, &reading.lowest, &reading.highest].into_iter().filter(|number| !number.is_empty())
}

/// Whether a confident reading of the photo says something else than every number that was entered.
#[must_use]
pub fn contradicts(reading: &ReadingKept, seen: &SeenOnPhoto) -> bool {
    let asks = seen.certainty >= SURE && !reading.mode.is_answered();
    asks && !entered(reading).any(|number| agrees(number, reading.unit, &seen.value))
}

/// A confident reading of the photo that is contradicted is asked about once.
pub(super) fn asked(reading: &ReadingKept) -> Permission {
    let Some(seen) = &reading.seen else { return Ok(()) };
    if !reading.photos.contains(&seen.photo) {
        return Err(Refused::unknown("photo", &seen.photo.to_string()));
    }
    if seen.kept_against || !contradicts(reading, seen) {
        return Ok(());
    }
    let shown = spelled(&seen.value).unwrap_or_else(|| seen.value.clone());
    let typed = entered(reading).next().cloned().unwrap_or_default();
    Err(Refused::because("photo_shows_other").with("seen", &shown).with("typed", &typed))
}

/// Whether a number that was entered in a unit can be what a display shows, in whichever unit of the quantity: the same
/// digits and sign, trailing zeros aside, and the point where one of the units puts it.
#[must_use]
pub fn agrees(number: &str, unit: Unit, shown: &str) -> bool {
    let (Some(number), Some(shown)) = (spelled(number), spelled(shown)) else { return false };
    match (Significant::of(&number), Significant::of(&shown)) {
        (Some(number), Some(shown)) => number.is(&shown, shifts(unit)),
        _ => number == shown,
    }
}

/// By how many places the point may stand further right in what was entered than on the display: one for each unit that a
/// display shows the quantity in (mV and V, ohms to megohms, microamps to amps, Hz to MHz).
const fn shifts(unit: Unit) -> &'static [i32] {
    match unit {
        Unit::Volt => &[0, -3],
        Unit::Millivolt => &[0, 3],
        Unit::Ohm | Unit::Hertz => &[0, 3, 6],
        Unit::Kilohm | Unit::Milliamp => &[0, 3, -3],
        Unit::Megohm | Unit::Amp => &[0, -3, -6],
        Unit::Percent | Unit::YesNo => &[0],
    }
}

/// A decimal without the zeros that say nothing: sign, digits, and the place of the last digit as a power of ten.
struct Significant {
    negative: bool,
    digits: String,
    last: i32,
}

impl Significant {
    fn of(decimal: &str) -> Option<Self> {
        let (negative, bare) = decimal.strip_prefix('-').map_or((false, decimal), |rest| (true, rest));
        let (whole, decimals) = bare.split_once('.').unwrap_or((bare, ""));
        let all = format!("{whole}{decimals}");
        if all.is_empty() || !all.bytes().all(|byte| byte.is_ascii_digit()) {
            return None;
        }
        let digits = all.trim_end_matches('0');
        let zeros = i32::try_from(all.len().saturating_sub(digits.len())).ok()?;
        let last = zeros.saturating_sub(i32::try_from(decimals.len()).ok()?);
        Some(Self { negative, digits: digits.trim_start_matches('0').to_owned(), last })
    }

    fn is(&self, other: &Self, shifts: &[i32]) -> bool {
        let zero = self.digits.is_empty() && other.digits.is_empty();
        let same = self.negative == other.negative && self.digits == other.digits;
        zero || same && shifts.contains(&self.last.saturating_sub(other.last))
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    fn check(number: &str, unit: Unit, shown: &str, wanted: bool) {
        assert_eq!(agrees(number, unit, shown), wanted, "{number} {} for {shown}", unit.code());
    }

    #[test]
    fn a_prefix_and_zeros_are_no_contradiction_a_digit_a_sign_and_a_place_are() {
        check("6.02", Unit::Kilohm, "6.02", true);
        check("6020", Unit::Ohm, "6.02", true);
        check("0.00602", Unit::Megohm, "6.02", true);
        check("6.020", Unit::Kilohm, "6.02", true);
        check("60.2", Unit::Kilohm, "6.02", false);
        check("6.20", Unit::Kilohm, "6.02", false);
        check("-6.02", Unit::Kilohm, "6.02", false);
        check("39.5", Unit::Millivolt, "039.5", true);
        check("0.0395", Unit::Volt, "039.5", true);
        // A display shows no kilovolts: 39,500 V are no 39.5.
        check("39500", Unit::Volt, "39.5", false);
        check("0", Unit::Volt, "-0.000", true);
        check("0.001", Unit::Volt, ".001", true);
        check("OL", Unit::Ohm, "0.L", true);
        check("12.4", Unit::Volt, "OL", false);
        check("12", Unit::Percent, "1.2", false);
    }

    fn number(value: &str, certainty: u32, at_edge: bool) -> SeenNumber {
        SeenNumber { value: value.into(), certainty, at_edge }
    }

    #[test]
    fn what_is_to_be_looked_at_is_never_proposed_plainly() {
        let volts = Asked { mode: MeterMode::VoltsDc, unit: Unit::Volt, range: "", most_digits: 4 };
        let says = |seen: &SeenNumber| {
            let proposal = proposal(Some(seen), &volts);
            (proposal.value, proposal.says, proposal.look)
        };
        assert_eq!(says(&number("12.61", 990, false)), ("12.61".into(), SeenSays::Shows, vec![]));
        assert_eq!(says(&number("12.61", 989, false)), ("12.61".into(), SeenSays::MayShow, vec![]));
        assert_eq!(says(&number("12.61", 499, false)), (String::new(), SeenSays::Nothing, vec![]));
        let all = vec![SeenLook::AtEdge, SeenLook::Minus, SeenLook::FewerDigits];
        assert_eq!(says(&number("-1.2", 1000, true)), ("-1.2".into(), SeenSays::MayShow, all));
        assert_eq!(says(&number("039.5", 1000, false)), ("39.5".into(), SeenSays::Shows, vec![]));
        assert_eq!(proposal(None, &volts).says, SeenSays::Nothing);
        let beep = Asked { mode: MeterMode::Continuity, unit: Unit::YesNo, ..volts };
        assert_eq!(proposal(Some(&number("6.02", 1000, false)), &beep).says, SeenSays::Nothing);
    }

    #[test]
    fn what_does_not_fit_the_reading_is_pointed_out() {
        let ohms = Asked { mode: MeterMode::Ohms, unit: Unit::Ohm, range: "", most_digits: 0 };
        let remark =
            |value: &str, asked: &Asked<'_>| proposal(Some(&number(value, 1000, false)), asked).remark;
        assert_eq!(remark("OL", &ohms), Some(SeenRemark::OverLimitOhms));
        assert_eq!(remark("6.02", &ohms), None);
        assert_eq!(remark("602", &Asked { range: "400", ..ohms }), Some(SeenRemark::AboveRange));
        assert_eq!(remark("399", &Asked { range: "400", ..ohms }), None);
        let volts = Asked { mode: MeterMode::VoltsDc, unit: Unit::Volt, ..ohms };
        assert_eq!(remark("0.L", &volts), Some(SeenRemark::OverLimit));
        assert_eq!(remark("1261", &volts), Some(SeenRemark::BeyondUnit));
    }
}
