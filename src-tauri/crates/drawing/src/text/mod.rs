//! How wide a text is, and how long names become short ones.

mod shorten;
mod widths;

pub(crate) use shorten::shorten;

/// Size of names.
pub(crate) const NAME: f64 = 15.5;
/// Size of pin numbers; nothing is smaller.
pub(crate) const PIN: f64 = 15.0;
/// Size of readings.
pub(crate) const VALUE: f64 = 17.5;
/// From line to line of a name.
pub(crate) const LINE: f64 = 17.0;

/// Letters that aren't in the table: about the widest of the others.
const UNKNOWN: u16 = 760;

/// Width in px at a size in px.
pub(crate) fn width(text: &str, size: f64) -> f64 {
    let of = |letter: char| {
        let found = widths::WIDTHS.binary_search_by_key(&letter, |(known, _)| *known).ok();
        found.and_then(|place| widths::WIDTHS.get(place)).map_or(UNKNOWN, |(_, width)| *width)
    };
    text.chars().map(of).map(f64::from).sum::<f64>() * size / 1000.0
}

/// Width of the widest line.
pub(crate) fn widest(lines: &[String], size: f64) -> f64 {
    lines.iter().map(|line| width(line, size)).fold(0.0, f64::max)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn letters_are_in_order_and_figures_have_their_widths() {
        assert!(widths::WIDTHS.is_sorted_by_key(|(letter, _)| *letter));
        // "8" is 627 and "M" 878 thousandths in the font's own table.
        assert!((width("8M", 1000.0) - 1505.0).abs() < 0.5);
        assert!(width("日", 10.0) > 7.0);
    }
}
