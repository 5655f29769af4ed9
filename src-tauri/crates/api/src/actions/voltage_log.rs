//! Supply voltages as they are typed: a line each, minutes and volts.

use crate::{ApiError, typed};
use job::Refused;
use job::event::{SupplyWindow, VoltageAt};

/// The lines of a log; empty lines are left out.
///
/// # Errors
/// The first line that isn't two numbers, by its number.
pub(super) fn voltages(text: &str) -> Result<Vec<VoltageAt>, ApiError> {
    let text = typed::text("voltages", text)?;
    let lines = (1_usize..).zip(text.lines()).filter(|(_, line)| !line.trim().is_empty());
    lines.map(|(number, line)| at(line).ok_or_else(|| refused(number, line))).collect()
}

fn at(line: &str) -> Option<VoltageAt> {
    let mut parts = line.split([' ', '\t', ';']).filter(|part| !part.is_empty());
    let (minute, volts) = (decimal(parts.next()?)?, decimal(parts.next()?)?);
    let unit = parts.next().is_none_or(|unit| unit.eq_ignore_ascii_case("v"));
    (unit && parts.next().is_none()).then_some(VoltageAt { minute, volts })
}

/// A number of digits, with a point or a comma before the decimals.
fn decimal(text: &str) -> Option<String> {
    let plain = text.replace(',', ".");
    let (whole, decimals) = plain.split_once('.').unwrap_or((&plain, "0"));
    let digits = |part: &str| (1..=9).contains(&part.len()) && part.bytes().all(|byte| byte.is_ascii_digit());
    (digits(whole) && digits(decimals)).then_some(plain)
}

fn refused(number: usize, line: &str) -> ApiError {
    let shown: String = line.trim().chars().take(40).collect();
    ApiError::Refused(
        Refused::because("voltage_line").with("line", &number.to_string()).with("value", &shown),
    )
}

/// The window of the maker; both ends or none.
///
/// # Errors
/// An end that is missing or no number.
pub(super) fn window(lowest: &str, highest: &str) -> Result<Option<SupplyWindow>, ApiError> {
    if lowest.trim().is_empty() && highest.trim().is_empty() {
        return Ok(None);
    }
    let end = |field: &'static str, typed: &str| {
        let text = typed::required(field, typed)?;
        decimal(&text).ok_or_else(|| {
            typed::named::<String>(field, Err(ApiError::NotANumber(text.clone())))
                .err()
                .unwrap_or(ApiError::Empty { field })
        })
    };
    Ok(Some(SupplyWindow { lowest: end("window_lowest", lowest)?, highest: end("window_highest", highest)? }))
}
