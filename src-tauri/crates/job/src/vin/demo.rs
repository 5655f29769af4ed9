//! Made-up VINs for the demo.

use super::{Vin, VinError, YEAR_CODES, check_digit_of};

/// Maker's code of the demo's vehicles. No public table of country codes we read (two, of 2003 and 2019)
/// gives any country the first character 0, and a maker's code starts with its country's; so no real vehicle
/// should carry it. ISO 3780 itself was not read.
pub const DEMO_MAKER: &str = "0ZX";

/// VINs of the demo's three vehicles, made with [`demo_vin`]: model years 2016, 2019, 2022.
pub const DEMO_VINS: [&str; 3] = ["0ZX4C2HB0GT010427", "0ZX7R5WD9KK230116", "0ZX2M8PX9NA005093"];

/// A made-up VIN with a valid check digit: five characters of attributes (the fourth a letter, as for cars
/// from 2010), a model year between 2010 and 2039, a plant, a running number.
///
/// # Errors
/// When a character can't stand in a VIN or the length isn't 17.
pub fn demo_vin(attributes: &str, year: u16, plant: char, number: u32) -> Result<Vin, VinError> {
    let place = usize::from(year.saturating_sub(2010));
    let code = YEAR_CODES.chars().nth(place).unwrap_or('0');
    let open = Vin::read(&format!("{DEMO_MAKER}{attributes}0{code}{plant}{number:06}"))?;
    let closed = open.with(8, check_digit_of(open.as_str()));
    Vin::parse(&closed)
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn demo_vins_are_valid_and_say_their_year() {
        let made = [("4C2HB", 2016, 'T', 10_427), ("7R5WD", 2019, 'K', 230_116), ("2M8PX", 2022, 'A', 5_093)];
        for ((attributes, year, plant, number), expected) in made.into_iter().zip(DEMO_VINS) {
            let vin = demo_vin(attributes, year, plant, number).unwrap();
            assert_eq!(vin.as_str(), expected);
            assert_eq!(vin.model_year().map(|m| m.year), Some(year));
            assert_eq!(vin.maker(), DEMO_MAKER);
        }
        assert!(demo_vin("4C2H", 2016, 'T', 1).is_err());
    }
}
