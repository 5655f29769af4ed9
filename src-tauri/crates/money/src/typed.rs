//! How a number that a person typed is read: one reading of separators for every field, without floating
//! point.
//!
//! | Typed | Read as |
//! |---|---|
//! | no mark | a whole number |
//! | point and comma | the last one is the decimal mark, the other one groups thousands |
//! | one mark several times | it groups thousands |
//! | one mark once | the decimal mark |
//! | one mark once, between one to three digits (the first not 0) and exactly three | refused: `12,345` is twelve thousand to one reader and twelve and a bit to the next |
//!
//! Only a percentage is exempt from the last row: it never reaches a thousand, so its mark can only be the
//! decimal one. Where the region is known, an amount is exempt too if the mark is the one that groups thousands there
//! ([`Marks`]): no amount has three decimals, so that nobody at home means anything else. Thousands must stand in threes. Zeros behind the last decimal that fits change nothing and are
//! accepted, so that `1.1250` says plainly what `1.125` can't.

use crate::error::MoneyError;

/// How numbers are written where the reader is at home.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub struct Marks {
    /// Before the decimals.
    pub decimal: char,
    /// Between thousands.
    pub group: char,
}

/// The fields a person fills in.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub(crate) enum Field {
    /// Money: two decimals, a currency sign in front or behind.
    Amount,
    /// Pieces or hours: three decimals.
    Quantity,
    /// Per cent: three decimals, a per-cent sign.
    Percent,
}

impl Field {
    /// How many decimals fit.
    pub(crate) const fn decimals(self) -> u32 {
        match self {
            Field::Amount => 2,
            Field::Quantity | Field::Percent => 3,
        }
    }

    const fn signs(self) -> &'static [char] {
        match self {
            Field::Amount => &['$', '€', '£'],
            Field::Quantity => &[],
            Field::Percent => &['%'],
        }
    }
}

/// The number in units of the last decimal that fits; [`i128::MAX`] or its negative where it is larger than
/// that, so that the caller's own limit refuses it.
///
/// # Errors
/// [`MoneyError::NotAnAmount`], [`MoneyError::AmbiguousSeparator`], [`MoneyError::BadGrouping`] or
/// [`MoneyError::TooManyDecimals`].
pub(crate) fn read(text: &str, field: Field) -> Result<i128, MoneyError> {
    read_at_home(text, field, None)
}

/// The same, where it is known how numbers are written at home.
///
/// # Errors
/// Those of [`read`].
pub(crate) fn read_at_home(text: &str, field: Field, home: Option<Marks>) -> Result<i128, MoneyError> {
    let (negative, bare) = without_signs(text.trim(), field);
    let readable = bare.chars().all(|c| c.is_ascii_digit() || matches!(c, '.' | ','));
    if !readable || !bare.ends_with(|c: char| c.is_ascii_digit()) {
        return Err(MoneyError::NotAnAmount { text: text.to_owned() });
    }
    let (whole, decimals) = split(text, bare, field, home)?;
    let decimals = fitting(text, decimals, field)?;
    let all = format!("{whole}{decimals:0<width$}", width = field.decimals() as usize);
    // Nothing but digits, so only their number can be too much.
    let size = all.parse().unwrap_or(i128::MAX);
    Ok(if negative { -size } else { size })
}

/// Takes off one minus and one sign of the field, in either order, and the spaces around them.
fn without_signs(text: &str, field: Field) -> (bool, &str) {
    let (negative, rest) = without_minus(text);
    let signs = field.signs();
    let rest = rest.strip_suffix(signs).or_else(|| rest.strip_prefix(signs)).unwrap_or(rest).trim();
    if negative { (true, rest) } else { without_minus(rest) }
}

fn without_minus(text: &str) -> (bool, &str) {
    text.strip_prefix(['-', '\u{2212}']).map_or((false, text), |rest| (true, rest.trim()))
}

/// The digits before the decimal mark, ungrouped, and those behind it.
fn split<'a>(
    text: &str,
    bare: &'a str,
    field: Field,
    home: Option<Marks>,
) -> Result<(String, &'a str), MoneyError> {
    let Some((whole, last)) = bare.rsplit_once(['.', ',']) else { return Ok((bare.to_owned(), "")) };
    let mark = if bare.ends_with(&format!(".{last}")) { '.' } else { ',' };
    if whole.contains(mark) {
        return Ok((ungrouped(text, bare)?, ""));
    }
    if field != Field::Percent && could_be_a_group(whole, last) {
        let groups_at_home =
            field == Field::Amount && home.is_some_and(|home| home.group == mark && home.decimal != mark);
        if groups_at_home {
            return Ok((ungrouped(text, bare)?, ""));
        }
        return Err(ambiguous(text, whole, last, field));
    }
    Ok((ungrouped(text, whole)?, last))
}

/// Whether the digits around a mark that stands alone could be thousands and a group of three.
fn could_be_a_group(whole: &str, last: &str) -> bool {
    (1..=3).contains(&whole.len()) && !whole.starts_with('0') && last.len() == 3
}

fn ambiguous(text: &str, whole: &str, last: &str, field: Field) -> MoneyError {
    let text = text.to_owned();
    match field {
        Field::Amount => {
            let cents: String = last.chars().take(2).collect();
            MoneyError::AmbiguousSeparator {
                text,
                thousands: format!("{whole}{last}.00"),
                decimal: format!("{whole}.{cents}"),
            }
        }
        Field::Quantity | Field::Percent => MoneyError::AmbiguousSeparator {
            text,
            thousands: format!("{whole}{last}"),
            decimal: format!("{whole}.{last}0"),
        },
    }
}

/// Takes thousands separators out if they stand in threes and are all the same.
fn ungrouped(text: &str, whole: &str) -> Result<String, MoneyError> {
    let bad = || MoneyError::BadGrouping { text: text.to_owned() };
    if whole.contains('.') && whole.contains(',') {
        return Err(bad());
    }
    let mut groups = whole.split(['.', ',']);
    let first = groups.next().unwrap_or_default();
    let rest: Vec<&str> = groups.collect();
    let grouped = !rest.is_empty();
    if grouped && (first.is_empty() || first.len() > 3 || rest.iter().any(|group| group.len() != 3)) {
        return Err(bad());
    }
    Ok(format!("{first}{}", rest.concat()))
}

/// The decimals without zeros behind the last one that fits.
fn fitting<'a>(text: &str, decimals: &'a str, field: Field) -> Result<&'a str, MoneyError> {
    let most = field.decimals();
    if decimals.len() <= most as usize {
        return Ok(decimals);
    }
    let needed = decimals.trim_end_matches('0');
    if needed.len() > most as usize {
        return Err(MoneyError::TooManyDecimals { text: text.to_owned(), most });
    }
    Ok(needed)
}

#[cfg(test)]
mod tests {
    use super::*;
    use crate::error::MoneyError::*;

    /// What a text means in each field: units of the last decimal, or a letter for the refusal.
    #[test]
    fn one_reading_of_separators_in_every_field() {
        let table: &[(&str, &str, &str, &str)] = &[
            // typed, amount in cents, quantity in thousandths, per cent in thousandths
            ("12", "1200", "12000", "12000"),
            ("12.5", "1250", "12500", "12500"),
            ("12,34", "1234", "12340", "12340"),
            ("12.34", "1234", "12340", "12340"),
            ("1,234.56", "123456", "1234560", "1234560"),
            ("1.234,56", "123456", "1234560", "1234560"),
            ("1,234,567", "123456700", "1234567000", "1234567000"),
            ("1.234.567", "123456700", "1234567000", "1234567000"),
            ("1,234.567", "decimals", "1234567", "1234567"),
            ("12,345", "two ways", "two ways", "12345"),
            ("12.345", "two ways", "two ways", "12345"),
            ("1.250", "two ways", "two ways", "1250"),
            ("100,000", "two ways", "two ways", "100000"),
            ("1.1250", "decimals", "1125", "1125"),
            ("12.3400", "1234", "12340", "12340"),
            ("0.125", "decimals", "125", "125"),
            ("0,125", "decimals", "125", "125"),
            (".125", "decimals", "125", "125"),
            ("012.345", "decimals", "12345", "12345"),
            ("12345.678", "decimals", "12345678", "12345678"),
            ("12,34,567", "grouping", "grouping", "grouping"),
            ("1,23.50", "grouping", "grouping", "grouping"),
            ("1.234,567.8", "grouping", "grouping", "grouping"),
            ("-5.00", "-500", "-5000", "-5000"),
            ("\u{2212} 5", "-500", "-5000", "-5000"),
            ("-12,345", "two ways", "two ways", "-12345"),
            ("-0.00", "0", "0", "0"),
            ("$12", "1200", "no number", "no number"),
            ("$ -12", "-1200", "no number", "no number"),
            ("-$12", "-1200", "no number", "no number"),
            ("12 €", "1200", "no number", "no number"),
            ("$12$", "no number", "no number", "no number"),
            ("7,25 %", "no number", "no number", "7250"),
            ("", "no number", "no number", "no number"),
            ("-", "no number", "no number", "no number"),
            (".", "no number", "no number", "no number"),
            ("12.", "no number", "no number", "no number"),
            ("--5", "no number", "no number", "no number"),
            ("+5", "no number", "no number", "no number"),
            ("1e3", "no number", "no number", "no number"),
            ("1 234", "no number", "no number", "no number"),
            ("12.34x", "no number", "no number", "no number"),
            ("x,345", "no number", "no number", "no number"),
            ("٣", "no number", "no number", "no number"),
        ];
        let said = |text: &str, field| match read(text, field) {
            Ok(units) => units.to_string(),
            Err(NotAnAmount { .. }) => "no number".into(),
            Err(AmbiguousSeparator { .. }) => "two ways".into(),
            Err(BadGrouping { .. }) => "grouping".into(),
            Err(TooManyDecimals { .. }) => "decimals".into(),
            Err(other) => other.to_string(),
        };
        for (text, amount, quantity, percent) in table {
            assert_eq!(said(text, Field::Amount), *amount, "{text} as an amount");
            assert_eq!(said(text, Field::Quantity), *quantity, "{text} as a quantity");
            assert_eq!(said(text, Field::Percent), *percent, "{text} as a percentage");
        }
    }

    /// Each of the two spellings offered is read, and as different numbers.
    #[test]
    fn the_remedy_of_two_readings_can_be_typed() {
        for (field, thousands_read, decimal_read) in
            [(Field::Amount, 1_234_500, 1_234), (Field::Quantity, 12_345_000, 12_345)]
        {
            let Err(AmbiguousSeparator { thousands, decimal, .. }) = read("12,345", field) else {
                panic!("{field:?} reads 12,345")
            };
            assert_eq!(read(&thousands, field), Ok(thousands_read), "{thousands}");
            assert_eq!(read(&decimal, field), Ok(decimal_read), "{decimal}");
        }
    }

    /// Spain and Germany write 1.250,00; the United States, Mexico and the United Kingdom 1,250.00 (Unicode CLDR, number
    /// symbols of es-ES, de-DE, en-US, es-MX, en-GB).
    #[test]
    fn a_lone_mark_that_groups_at_home_needs_no_cents() {
        let comma_decimal = Some(Marks { decimal: ',', group: '.' });
        let point_decimal = Some(Marks { decimal: '.', group: ',' });
        let both = Err(());
        for (text, at_comma, at_point, anywhere) in [
            ("1.250", Ok(125_000), both, both),
            ("1,250", both, Ok(125_000), both),
            ("-1.250 €", Ok(-125_000), both, both),
            ("£1,250", both, Ok(125_000), both),
            ("1.250,00", Ok(125_000), Ok(125_000), Ok(125_000)),
            ("1,250.00", Ok(125_000), Ok(125_000), Ok(125_000)),
            ("£100", Ok(10_000), Ok(10_000), Ok(10_000)),
            ("0.125", both, both, both),
            ("12.5", Ok(1_250), Ok(1_250), Ok(1_250)),
        ] {
            let read = |home| read_at_home(text, Field::Amount, home).map_err(drop);
            assert_eq!(read(comma_decimal), at_comma, "{text} where the comma is the decimal mark");
            assert_eq!(read(point_decimal), at_point, "{text} where the point is the decimal mark");
            assert_eq!(read(None), anywhere, "{text} anywhere");
        }
        // Hours have three decimals, so that a lone mark stays open there.
        assert!(read_at_home("1.250", Field::Quantity, comma_decimal).is_err());
    }

    #[test]
    fn more_digits_than_any_number_holds_are_still_a_number() {
        assert_eq!(read(&"9".repeat(60), Field::Amount), Ok(i128::MAX));
        assert_eq!(read(&format!("-{}", "9".repeat(60)), Field::Percent), Ok(-i128::MAX));
    }
}
