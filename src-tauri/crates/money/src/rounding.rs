//! Division of whole numbers with halves rounded away from zero.

/// `numerator / denominator` to the nearest whole number, halves away from zero. Bankers' rounding
/// would send 2.5 cents to 2, which no customer expects. `None` if the denominator isn't above zero.
pub(crate) fn divide_half_away(numerator: i128, denominator: i128) -> Option<i128> {
    if denominator <= 0 {
        return None;
    }
    let whole = numerator.checked_div(denominator)?;
    let rest = numerator.checked_rem(denominator)?.unsigned_abs();
    let half_or_more = rest.checked_mul(2)? >= denominator.unsigned_abs();
    if half_or_more { whole.checked_add(numerator.signum()) } else { Some(whole) }
}

#[cfg(test)]
mod tests {
    use super::divide_half_away;

    #[test]
    fn halves_go_away_from_zero() {
        for (numerator, expected) in [(24, 2), (25, 3), (26, 3), (35, 4), (-24, -2), (-25, -3), (0, 0)] {
            assert_eq!(divide_half_away(numerator, 10), Some(expected), "{numerator}/10");
        }
        assert_eq!(divide_half_away(1, 3), Some(0));
        assert_eq!(divide_half_away(2, 3), Some(1));
        assert_eq!(divide_half_away(1, 0), None);
    }
}
