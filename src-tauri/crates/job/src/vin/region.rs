//! Where the maker is at home, as far as the first characters of a VIN say it.

use super::Vin;

/// A region of the world by ISO 3780, whose table several public pages give (read); the standard itself was not.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Region {
    /// A to H.
    Africa,
    /// J to R.
    Asia,
    /// S to Z.
    Europe,
    /// 1 to 5.
    NorthAmerica,
    /// 6.
    Oceania,
    /// 8 and 9.
    SouthAmerica,
}

impl Region {
    /// Code for the words.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Region::Africa => "africa",
            Region::Asia => "asia",
            Region::Europe => "europe",
            Region::NorthAmerica => "north_america",
            Region::Oceania => "oceania",
            Region::SouthAmerica => "south_america",
        }
    }
}

impl Vin {
    /// The region that the maker's code was given out in; not where the vehicle was put together. `None` for 7, which New
    /// Zealand and the United States share by its second character, and for 0, which nobody has.
    #[must_use]
    pub fn region(&self) -> Option<Region> {
        match self.at(1) {
            'A'..='H' => Some(Region::Africa),
            'J'..='R' => Some(Region::Asia),
            'S'..='Z' => Some(Region::Europe),
            '1'..='5' => Some(Region::NorthAmerica),
            '6' => Some(Region::Oceania),
            '8' | '9' => Some(Region::SouthAmerica),
            _ => None,
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_first_character_names_the_region_and_no_more_than_that() {
        for (first, region) in [
            ('A', Some(Region::Africa)),
            ('J', Some(Region::Asia)),
            ('W', Some(Region::Europe)),
            ('1', Some(Region::NorthAmerica)),
            ('3', Some(Region::NorthAmerica)),
            ('6', Some(Region::Oceania)),
            ('7', None),
            ('9', Some(Region::SouthAmerica)),
            ('0', None),
        ] {
            let vin = Vin::read(&format!("{first}ZX123B000A000001")).unwrap();
            assert_eq!(vin.region(), region, "{first}");
        }
    }
}
