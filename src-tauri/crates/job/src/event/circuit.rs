use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{Descriptor, Field, MEASURED};
use circuit::Circuit;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// The meter whose readings follow. Numbers are decimal strings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MeterChosen {
    /// Name as the technician calls it. Withheld.
    #[serde(default)]
    pub name: String,
    /// Input resistance on volts, ohms.
    pub volts_input_ohms: String,
    /// Input resistance in the low-impedance mode, ohms; empty when the meter has none.
    #[serde(default)]
    pub low_impedance_ohms: String,
    /// Accuracy on DC volts, percent of the reading.
    pub accuracy_percent: String,
    /// Accuracy on DC volts, counts.
    pub accuracy_counts: u32,
}

/// The circuit that is being tested.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CircuitChosen {
    /// Circuit id in the library.
    pub circuit: String,
    /// The circuit file as it was, so that a later library never rewrites history. Text, because it holds numbers that a
    /// record may not.
    pub definition: String,
}

impl RecordKind for MeterChosen {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "meter_chosen",
        &[
            Field::withheld("name", MEASURED),
            Field::public("volts_input_ohms"),
            Field::public("low_impedance_ohms"),
            Field::public("accuracy_percent"),
            Field::public("accuracy_counts"),
        ],
    );

    fn check(&self) -> Result<(), Unusable> {
        check::decimal("volts_input_ohms", &self.volts_input_ohms, 1e3, 1e12)?;
        check::decimal("accuracy_percent", &self.accuracy_percent, 0.0, 100.0)?;
        if self.low_impedance_ohms.is_empty() {
            return Ok(());
        }
        check::decimal("low_impedance_ohms", &self.low_impedance_ohms, 1.0, 1e9)
    }
}

impl CircuitChosen {
    /// The circuit that the file describes.
    ///
    /// # Errors
    /// [`Unusable`] when the text is no circuit.
    pub fn parsed(&self) -> Result<Circuit, Unusable> {
        Circuit::from_json(&self.definition).map_err(|error| Unusable::new("definition", error.to_string()))
    }
}

impl RecordKind for CircuitChosen {
    const DESCRIPTOR: Descriptor =
        Descriptor::new("circuit_chosen", &[Field::public("circuit"), Field::public("definition")]);

    fn check(&self) -> Result<(), Unusable> {
        self.parsed().map(|_| ())
    }
}
