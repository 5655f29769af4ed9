use super::RecordKind;
use super::check::Unusable;
use super::descriptor::{Descriptor, Field, JUDGES, MEASURED};
use super::seen::SeenOnPhoto;
use crate::measured::{Measured, Unit, in_base_unit};
use crate::meter_mode::MeterMode;
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::collections::BTreeMap;
use ts_rs::TS;

/// Was the complaint present while the reading was taken?
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum ComplaintPresent {
    /// Yes.
    Yes,
    /// No.
    No,
    /// Nobody could tell.
    #[default]
    Unknown,
}

/// What was done to the circuit while it was read, so that a fault that comes and goes shows.
#[derive(Clone, Copy, Debug, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(export)]
pub enum ReadingCondition {
    /// Harness and connectors were wiggled.
    Wiggled,
    /// It was warmed.
    Heated,
    /// It was cooled.
    Cooled,
}

/// A reading with everything that decides what it means.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingKept {
    /// Test of the circuit it answers, or empty.
    #[serde(default)]
    pub test: String,
    /// Canonical decimal with the digits the meter showed ("12.40"), or `OL`, `yes`, `no`. Empty where only the lowest or the
    /// highest of a recording was read.
    pub value: String,
    /// Unit as the meter showed it.
    pub unit: Unit,
    /// Meter mode.
    pub mode: MeterMode,
    /// Highest value that the range shows, in the same unit, where the range was chosen by hand: `OL` then means "more than
    /// this". Empty where the meter chose it.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub range: String,
    /// Lowest value of a minimum/maximum recording, in the same unit, spelled as the value is; empty where none was made.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub lowest: String,
    /// Highest value of such a recording.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub highest: String,
    /// What was done to the circuit meanwhile; absent where it was left alone.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub condition: Option<ReadingCondition>,
    /// Red lead's point, empty for a look.
    #[serde(default)]
    pub red: String,
    /// Black lead's point, empty for a look.
    #[serde(default)]
    pub black: String,
    /// Pin in doubt under the red lead, instead of a point: connector and number (`module_connector/4`), or empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub red_pin: String,
    /// Pin in doubt under the black lead, or empty.
    #[serde(default, skip_serializing_if = "String::is_empty")]
    pub black_pin: String,
    /// Positions of all that can be switched, plugged or fitted; `unknown` where nobody knows.
    #[serde(default)]
    pub state: BTreeMap<String, String>,
    /// Substitute load, or empty.
    #[serde(default)]
    pub load: String,
    /// Whether the complaint was present.
    pub complaint_present: ComplaintPresent,
    /// Placement number of the leads; the same number means they were not placed anew.
    pub placement: u32,
    /// Note. Withheld.
    #[serde(default)]
    pub note: String,
    /// Photos.
    #[serde(default)]
    pub photos: Vec<Digest>,
    /// The number that the last photo was read as; absent where none was read, or none was told well enough to be proposed.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub seen: Option<SeenOnPhoto>,
}

/// A correction stands beside what it corrects. The corrected reading replaces it in the reasoning.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct ReadingCorrected {
    /// Leaf of the record that is corrected.
    pub corrects: Digest,
    /// Why. Withheld.
    #[serde(default)]
    pub reason: String,
    /// Note of the corrected reading. Withheld, and kept apart from `reading` for that.
    #[serde(default)]
    pub note: String,
    /// The reading as it should have been; its own note is empty.
    pub reading: ReadingKept,
    /// The reading is taken back: nothing stands in its place, and `reading` only repeats it. Absent in a correction.
    #[serde(default, skip_serializing_if = "std::ops::Not::not")]
    pub withdrawn: bool,
}

impl RecordKind for ReadingKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "reading_kept",
        &[
            Field::public("test"),
            Field::public("value"),
            Field::public("unit"),
            Field::public("mode"),
            Field::public("range"),
            Field::public("lowest"),
            Field::public("highest"),
            Field::public("condition"),
            Field::public("red"),
            Field::public("black"),
            Field::public("red_pin"),
            Field::public("black_pin"),
            Field::public("state"),
            Field::public("load"),
            Field::public("complaint_present"),
            Field::public("placement"),
            Field::withheld("note", JUDGES),
            Field::public("photos"),
            Field::public("seen"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        self.photos.clone()
    }

    fn check(&self) -> Result<(), Unusable> {
        self.seen.iter().try_for_each(SeenOnPhoto::check)?;
        let recorded = [("lowest", &self.lowest), ("highest", &self.highest)];
        let made = recorded.iter().any(|(_, value)| !value.is_empty());
        if !self.value.is_empty() || !made {
            written("value", &self.value, self.unit)?;
        }
        for (field, value) in recorded.into_iter().filter(|(_, value)| !value.is_empty()) {
            written(field, value, self.unit)?;
        }
        if made && self.unit == Unit::YesNo {
            return Err(Unusable::new(
                "lowest",
                "a look or a question has no lowest or highest: leave them empty",
            ));
        }
        let bounds = in_base_unit(&self.lowest, self.unit).zip(in_base_unit(&self.highest, self.unit));
        if bounds.is_some_and(|(lowest, highest)| lowest > highest) {
            return Err(Unusable::new("lowest", "it lies above the highest: exchange or correct them"));
        }
        if self.range.is_empty() {
            return Ok(());
        }
        written("range", &self.range, self.unit)?;
        match in_base_unit(&self.range, self.unit) {
            Some(range) if range > 0.0 => Ok(()),
            _ => Err(Unusable::new(
                "range",
                format!("{:?} is no range: write a number above zero", self.range),
            )),
        }
    }
}

/// A value as its record has to spell it.
fn written(field: &'static str, value: &str, unit: Unit) -> Result<(), Unusable> {
    match Measured::parse(value, unit) {
        Ok(measured) if measured.text() == value => Ok(()),
        Ok(measured) => {
            Err(Unusable::new(field, format!("{value:?} should be written {:?}", measured.text())))
        }
        Err(error) => Err(Unusable::new(field, error.to_string())),
    }
}

impl RecordKind for ReadingCorrected {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "reading_corrected",
        &[
            Field::public("corrects"),
            Field::withheld("reason", MEASURED),
            Field::withheld("note", JUDGES),
            Field::public("reading"),
            Field::public("withdrawn"),
        ],
    );

    fn photos(&self) -> Vec<Digest> {
        self.reading.photos.clone()
    }

    fn check(&self) -> Result<(), Unusable> {
        self.reading.check()
    }

    /// The note is withheld, so it stands beside the reading, whose fields are public.
    fn admissible(&self) -> Result<(), Unusable> {
        if self.reading.note.is_empty() {
            Ok(())
        } else {
            Err(Unusable::new("note", "it stands beside the reading"))
        }
    }
}

#[cfg(test)]
mod tests {
    use super::*;

    /// A body as it was sealed before there were recordings and conditions: read and written again it is the same, byte for byte.
    #[test]
    fn what_was_kept_before_there_were_recordings_reads_and_writes_the_same() {
        let sealed = r#"{"test":"control_open","value":"12.40","unit":"V","mode":"volts_dc","red":"s86","black":"bat_neg","state":{"key":"on"},"load":"","complaint_present":"yes","placement":1,"note":"","photos":[]}"#;
        let kept: ReadingKept = serde_json::from_str(sealed).unwrap();
        assert_eq!((kept.lowest.as_str(), kept.highest.as_str(), kept.condition), ("", "", None));
        assert_eq!(kept.check(), Ok(()));
        assert_eq!(serde_json::to_string(&kept).unwrap(), sealed);
        let recorded = ReadingKept { value: String::new(), lowest: "8.10".into(), ..kept.clone() };
        assert_eq!(recorded.check(), Ok(()));
        for odd in [
            ReadingKept { value: String::new(), ..kept.clone() },
            ReadingKept { lowest: "8,1".into(), ..kept.clone() },
            ReadingKept { lowest: "9.0".into(), highest: "8.9".into(), ..kept.clone() },
            ReadingKept { value: "yes".into(), unit: Unit::YesNo, lowest: "yes".into(), ..kept.clone() },
        ] {
            assert!(odd.check().is_err(), "{odd:?}");
        }
    }
}
