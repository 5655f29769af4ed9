//! Vehicle identification numbers: 49 CFR 565.15 (text and worked example read, see the tests).
//!
//! North American vehicles carry a check digit in position 9; elsewhere (ISO 3779) the position is free, so
//! [`Vin::read`] takes any 17 allowed characters and [`Vin::check_digit`] is asked separately.

mod demo;
mod error;
mod region;

use std::fmt;
use std::str::FromStr;

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

pub use demo::{DEMO_MAKER, DEMO_VINS, demo_vin};
pub use error::VinError;
pub use region::Region;

/// Characters in a VIN.
pub const LENGTH: usize = 17;

/// Weights by position; the check digit's own is 0. 49 CFR 565.15(c), table IV.
const WEIGHTS: [u32; LENGTH] = [8, 7, 6, 5, 4, 3, 2, 10, 0, 9, 8, 7, 6, 5, 4, 3, 2];

/// Model-year codes of position 10 from 1980 and again from 2010: no I, O, Q, U, Z, 0. The order is that of
/// several public year tables (read); table VII of the regulation itself was not.
const YEAR_CODES: &str = "ABCDEFGHJKLMNPRSTVWXY123456789";

/// Characters that are taken for each other on dirty plates and in photos (common practice, no source).
const LOOK_ALIKE: [(char, char); 7] =
    [('S', '5'), ('B', '8'), ('Z', '2'), ('G', '6'), ('D', '0'), ('L', '1'), ('U', 'V')];

/// Seventeen allowed characters in capitals.
#[derive(Debug, Clone, PartialEq, Eq, PartialOrd, Ord, Hash, Serialize, Deserialize, JsonSchema)]
#[serde(try_from = "String", into = "String")]
pub struct Vin(String);

/// One look-alike that would make the check digit fit.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct Misread {
    /// Position from 1.
    pub position: usize,
    /// What stands there.
    pub is: char,
    /// What it may be.
    pub meant: char,
}

/// What position 10 says.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, JsonSchema)]
pub struct ModelYear {
    /// The year by the rule for cars and light trucks (to 4536 kg): a letter in position 7 means 2010 to 2039,
    /// a digit 1980 to 2009. 49 CFR 565.15(b) makes position 7 alphabetic; that a digit means the earlier
    /// cycle is from the rule-making's discussion (read).
    pub year: u16,
    /// The other year with the same code, possible for heavy vehicles, trailers and motorcycles.
    pub otherwise: u16,
}

impl Vin {
    /// Reads a VIN and its check digit: for vehicles built for North America.
    ///
    /// # Errors
    /// Names the first position that can't be.
    pub fn parse(text: &str) -> Result<Vin, VinError> {
        let vin = Vin::read(text)?;
        vin.check_digit()?;
        Ok(vin)
    }

    /// Reads seventeen allowed characters. Small letters become capitals; spaces and hyphens go.
    ///
    /// # Errors
    /// Names the first character that can't be, then the length.
    pub fn read(text: &str) -> Result<Vin, VinError> {
        let kept = text.chars().filter(|c| !c.is_whitespace() && *c != '-');
        let capitals: String = kept.map(|c| c.to_ascii_uppercase()).collect();
        for (index, is) in capitals.chars().enumerate() {
            allowed(index + 1, is)?;
        }
        match capitals.chars().count() {
            LENGTH => Ok(Vin(capitals)),
            is => Err(VinError::Length { is }),
        }
    }

    /// The characters.
    pub fn as_str(&self) -> &str {
        &self.0
    }

    /// Holds position 9 against the sixteen others.
    ///
    /// # Errors
    /// [`VinError::CheckDigit`] with what should stand there.
    pub fn check_digit(&self) -> Result<(), VinError> {
        let (should, is) = (check_digit_of(&self.0), self.at(9));
        if should == is { Ok(()) } else { Err(VinError::CheckDigit { should, is }) }
    }

    /// Single look-alike characters that would make the check digit fit, in the order of their positions.
    /// Empty if it fits already. Help for a second look at the plate, never a correction by itself.
    pub fn misreads(&self) -> Vec<Misread> {
        if self.check_digit().is_ok() {
            return Vec::new();
        }
        let places = self.0.chars().enumerate().filter(|(index, _)| *index != 8);
        let swaps = places.flat_map(|(index, is)| look_alikes(is).map(move |meant| (index, is, meant)));
        let fits = swaps.filter(|(index, _, meant)| Vin(self.with(*index, *meant)).check_digit().is_ok());
        fits.map(|(index, is, meant)| Misread { position: index + 1, is, meant }).collect()
    }

    /// Model year by position 10; `None` where the code isn't one. Outside North America position 10 is free.
    pub fn model_year(&self) -> Option<ModelYear> {
        let place = YEAR_CODES.chars().position(|code| code == self.at(10))?;
        let early = 1980 + u16::try_from(place).ok()?;
        let late = early + 30;
        let (year, otherwise) = if self.at(7).is_ascii_alphabetic() { (late, early) } else { (early, late) };
        Some(ModelYear { year, otherwise })
    }

    /// The maker's code, positions 1 to 3.
    pub fn maker(&self) -> String {
        self.0.chars().take(3).collect()
    }

    fn at(&self, position: usize) -> char {
        self.0.chars().nth(position - 1).unwrap_or('0')
    }

    fn with(&self, place: usize, character: char) -> String {
        self.0.chars().enumerate().map(|(index, c)| if index == place { character } else { c }).collect()
    }
}

impl fmt::Display for Vin {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

impl FromStr for Vin {
    type Err = VinError;

    fn from_str(text: &str) -> Result<Vin, VinError> {
        Vin::parse(text)
    }
}

impl TryFrom<String> for Vin {
    type Error = VinError;

    fn try_from(text: String) -> Result<Vin, VinError> {
        Vin::read(&text)
    }
}

impl From<Vin> for String {
    fn from(vin: Vin) -> String {
        vin.0
    }
}

fn allowed(position: usize, is: char) -> Result<(), VinError> {
    let meant = match is {
        'I' => '1',
        'O' | 'Q' => '0',
        'A'..='Z' | '0'..='9' => return Ok(()),
        _ => return Err(VinError::ForbiddenCharacter { position, is }),
    };
    Err(VinError::ForbiddenLetter { position, is, meant })
}

/// Sum of value times weight, remainder by 11, ten written as X. 49 CFR 565.15(c)(2) to (4).
fn check_digit_of(vin: &str) -> char {
    let sum: u32 = vin.chars().zip(WEIGHTS).map(|(character, weight)| value(character) * weight).sum();
    char::from_digit(sum % 11, 10).unwrap_or('X')
}

/// 49 CFR 565.15(c)(1), table III.
fn value(character: char) -> u32 {
    match character {
        'A' | 'J' => 1,
        'B' | 'K' | 'S' => 2,
        'C' | 'L' | 'T' => 3,
        'D' | 'M' | 'U' => 4,
        'E' | 'N' | 'V' => 5,
        'F' | 'W' => 6,
        'G' | 'P' | 'X' => 7,
        'H' | 'Y' => 8,
        'R' | 'Z' => 9,
        digit => digit.to_digit(10).unwrap_or(0),
    }
}

fn look_alikes(is: char) -> impl Iterator<Item = char> {
    LOOK_ALIKE.into_iter().filter_map(move |(a, b)| match is {
        _ if is == a => Some(b),
        _ if is == b => Some(a),
        _ => None,
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    /// 1G4AH59H45G118341: the regulation's own worked example (table V, read on a page that quotes it: sum
    /// 411, remainder 4). 1J9RP1A36A1644345: worked in the agency's outline for new makers (read: total 314,
    /// remainder 6). The other two are widely used examples (from memory), sums worked by hand.
    #[test]
    fn published_examples_fit_their_check_digits() {
        for vin in ["1G4AH59H45G118341", "1J9RP1A36A1644345", "11111111111111111", "1M8GDM9AXKP042788"] {
            assert_eq!(Vin::parse(vin).map(String::from), Ok(vin.to_owned()));
        }
    }

    #[test]
    fn every_single_wrong_character_is_noticed_unless_it_has_the_same_value() {
        let good = Vin::parse("1G4AH59H45G118341").unwrap();
        for place in 0..LENGTH {
            for other in "ABCDEFGHJKLMNPRSTUVWXYZ0123456789".chars() {
                let was = good.as_str().chars().nth(place).unwrap();
                let same = other == was || (place != 8 && value(other) == value(was));
                assert_eq!(Vin(good.with(place, other)).check_digit().is_ok(), same, "{place} {other}");
            }
        }
    }

    #[test]
    fn errors_name_the_position() {
        for (text, error, words) in [
            (
                "1G4AH59H75G118341",
                VinError::CheckDigit { should: '4', is: '7' },
                "position 9 should be 4 but is 7: a character was misread, or the vehicle was not built for \
                 North America",
            ),
            (
                "1g4ah59h45g1183o1",
                VinError::ForbiddenLetter { position: 16, is: 'O', meant: '0' },
                "position 16 is the letter O, which a VIN never has: did you mean 0?",
            ),
            (
                "1G4*H59H45G118341",
                VinError::ForbiddenCharacter { position: 4, is: '*' },
                "position 4 is '*': a VIN has only letters and digits",
            ),
            (
                "1G4AH59H45G11834",
                VinError::Length { is: 16 },
                "this has 16 characters, a VIN has 17: compare it with the plate again",
            ),
        ] {
            let got = Vin::parse(text).unwrap_err();
            assert_eq!(got.to_string(), words);
            assert_eq!(got, error);
        }
        assert_eq!(Vin::parse(" 1g4-ah59h4 5g118341 ").unwrap().as_str(), "1G4AH59H45G118341");
        assert_eq!(Vin::parse("").unwrap_err(), VinError::Length { is: 0 });
        assert_eq!(Vin::parse("ß").unwrap_err().position(), Some(1));
    }

    #[test]
    fn a_look_alike_that_makes_it_fit_is_offered() {
        let misread = Vin::read("1G4AHS9H45G118341").unwrap();
        assert!(misread.misreads().contains(&Misread { position: 6, is: 'S', meant: '5' }));
        assert!(Vin::parse("1G4AH59H45G118341").unwrap().misreads().is_empty());
    }

    /// Year codes of public tables (read): A 1980 and 2010, Y 2000 and 2030, 1 2001, 9 2009, J 2018, M 2021.
    #[test]
    fn model_years_follow_positions_ten_and_seven() {
        let year = |seventh: char, code: char| {
            let vin = Vin::read(&format!("0ZX123{seventh}00{code}A000001")).unwrap();
            vin.model_year().map(|m| (m.year, m.otherwise))
        };
        for (seventh, code, expected) in [
            ('5', 'A', Some((1980, 2010))),
            ('B', 'A', Some((2010, 1980))),
            ('5', 'Y', Some((2000, 2030))),
            ('5', '1', Some((2001, 2031))),
            ('5', '9', Some((2009, 2039))),
            ('B', 'J', Some((2018, 1988))),
            ('B', 'M', Some((2021, 1991))),
            ('B', 'U', None),
            ('B', '0', None),
        ] {
            assert_eq!(year(seventh, code), expected, "{seventh} {code}");
        }
    }
}
