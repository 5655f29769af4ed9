//! Why a text can't be a VIN.

use thiserror::Error;

/// Why a text can't be a VIN. Positions count from 1, without spaces and hyphens.
#[derive(Debug, Clone, PartialEq, Eq, Error)]
pub enum VinError {
    /// I, O and Q are never used, because they look like 1, 0 and 9.
    #[error("position {position} is the letter {is}, which a VIN never has: did you mean {meant}?")]
    ForbiddenLetter {
        /// Where.
        position: usize,
        /// The letter.
        is: char,
        /// The digit it is usually taken for.
        meant: char,
    },
    /// Neither a letter from A to Z nor a digit.
    #[error("position {position} is {is:?}: a VIN has only letters and digits")]
    ForbiddenCharacter {
        /// Where.
        position: usize,
        /// The character.
        is: char,
    },
    /// Too few or too many characters.
    #[error("this has {is} characters, a VIN has 17: compare it with the plate again")]
    Length {
        /// How many there are.
        is: usize,
    },
    /// The check digit doesn't fit the other sixteen characters.
    #[error(
        "position 9 should be {should} but is {is}: a character was misread, or the vehicle was not built for \
         North America"
    )]
    CheckDigit {
        /// What the other characters ask for.
        should: char,
        /// What stands there.
        is: char,
    },
}

impl VinError {
    /// The position that can't be, from 1; `None` where it is the length.
    pub fn position(&self) -> Option<usize> {
        match self {
            VinError::ForbiddenLetter { position, .. } | VinError::ForbiddenCharacter { position, .. } => {
                Some(*position)
            }
            VinError::CheckDigit { .. } => Some(9),
            VinError::Length { .. } => None,
        }
    }

    /// Code of the error for the words of the screen.
    pub fn code(&self) -> &'static str {
        match self {
            VinError::ForbiddenLetter { .. } => "vin_forbidden_letter",
            VinError::ForbiddenCharacter { .. } => "vin_forbidden_character",
            VinError::Length { .. } => "vin_length",
            VinError::CheckDigit { .. } => "vin_check_digit",
        }
    }
}
