use super::check::Unusable;
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use ts_rs::TS;

/// Longest number of a display, in characters.
const LONGEST_NUMBER: usize = 20;

/// What became of the number that the photo of a reading was read as.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum SeenDecision {
    /// It was taken over from the photo and kept as it was.
    Taken,
    /// It was taken over from the photo and then changed.
    Corrected,
    /// It was not taken over: what was kept was typed.
    Ignored,
}

/// The number that the photo of a reading was read as, as it was proposed to the technician.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SeenOnPhoto {
    /// The photo.
    pub photo: Digest,
    /// As the display writes it: `6.02`, `039.5`, `-0.001`, `OL`. Its unit isn't read.
    pub value: String,
    /// Probability that this is what the display shows, in thousandths, rounded down.
    pub certainty: u32,
    /// What became of it.
    pub decision: SeenDecision,
    /// What was kept says something else; the technician was asked and kept it.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub kept_against: bool,
}

impl SeenOnPhoto {
    /// # Errors
    /// [`Unusable`] where no display shows the number, or the probability is none.
    pub fn check(&self) -> Result<(), Unusable> {
        let shown = |c: char| c.is_ascii_digit() || ".-OL".contains(c);
        if self.value.is_empty() || self.value.len() > LONGEST_NUMBER || !self.value.chars().all(shown) {
            return Err(Unusable::new("seen", format!("{:?} is no number of a display", self.value)));
        }
        if self.certainty > 1000 {
            return Err(Unusable::new("seen", format!("{} is more than 1000 thousandths", self.certainty)));
        }
        Ok(())
    }
}
