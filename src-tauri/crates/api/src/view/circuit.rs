use super::{BothLanguages, PhotoView};
use job::MeterMode;
use job::event::ReadingCondition;
use schemars::JsonSchema;
use serde::Serialize;
use std::collections::BTreeMap;
use ts_rs::TS;

/// One line of the list of circuits.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct CircuitRow {
    /// Circuit id of the library, or of the shop's own.
    pub id: String,
    /// Title.
    pub title: BothLanguages,
    /// The complaint it is about.
    pub complaint: BothLanguages,
    /// True for one that the shop entered itself.
    pub own: bool,
    /// The job's complaint is about it.
    pub fits: bool,
}

/// A meter's profile.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct MeterView {
    /// Profile id; empty when none is chosen.
    pub id: String,
    /// Name as the technician calls it.
    pub name: String,
    /// Input resistance on volts, ohms, decimal.
    pub volts_input_ohms: String,
    /// Input resistance in the low-impedance mode, ohms; empty when the meter has none.
    pub low_impedance_ohms: String,
    /// Accuracy on DC volts: percent of the reading, decimal.
    pub accuracy_percent: String,
    /// Accuracy on DC volts: counts of the last digit.
    pub accuracy_counts: u32,
}

/// The chosen circuit, drawn and with its pin-out.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct CircuitView {
    /// Circuit id.
    pub id: String,
    /// Title.
    pub title: BothLanguages,
    /// Width of the drawing in drawing units.
    pub width: f64,
    /// Height of the drawing in drawing units.
    pub height: f64,
    /// Named points where a lead can be put.
    pub points: Vec<PointView>,
    /// Parts between points, as drawn.
    pub parts: Vec<PartView>,
    /// Connectors with their face and pins.
    pub connectors: Vec<ConnectorView>,
    /// What can be switched, plugged or fitted, with its positions; the key is one of them.
    pub state_variables: Vec<StateVariableView>,
    /// Loads that may be used as a substitute (lamp, coil), by id.
    pub loads: Vec<ChoiceView>,
    /// Tests of this circuit.
    pub tests: Vec<TestView>,
}

/// A point of the circuit.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PointView {
    /// Point id.
    pub id: String,
    /// Name.
    pub name: BothLanguages,
    /// Place in the drawing.
    pub x: f64,
    /// Place in the drawing.
    pub y: f64,
    /// Volts a healthy circuit shows in the state of the last reading (or the circuit's usual state); null when floating.
    pub expected_volts: Option<f64>,
    /// Last measured volts against ground while the state was the same; null when not measured.
    pub measured_volts: Option<f64>,
    /// True when a lead can reach it.
    pub reachable: bool,
}

/// A part of the circuit between two points.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PartView {
    /// Component id.
    pub id: String,
    /// Name.
    pub name: BothLanguages,
    /// Kind for its drawing: battery, fuse, wire, connection, switch, relay_coil, relay_contact, driver, diode, lamp, motor,
    /// resistor, module, ground.
    pub kind: String,
    /// First point.
    pub from: String,
    /// Second point.
    pub to: String,
    /// Probability that the cause lies in this part, 0 when nothing is known.
    pub probability: f64,
    /// True for the expensive module.
    pub module: bool,
}

/// The face of a connector or socket.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ConnectorView {
    /// Connector id.
    pub id: String,
    /// Name.
    pub name: BothLanguages,
    /// Pins in their places on the face.
    pub pins: Vec<PinView>,
}

/// One pin; what the technician noted stands beside what the library says.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PinView {
    /// Pin number as printed on the face.
    pub number: String,
    /// Point of the circuit.
    pub point: String,
    /// Column on the face, from 0.
    pub column: f64,
    /// Row on the face, from 0.
    pub row: f64,
    /// Wire colour by IEC 60757 ("RD", "BUYE"), noted or from the library.
    pub colour: String,
    /// Function.
    pub function: BothLanguages,
    /// True once the technician noted what is there.
    pub noted: bool,
    /// Function as the technician noted it; empty when not noted.
    pub noted_function: String,
    /// Note of earlier work.
    pub note: String,
    /// True when the technician doesn't know for certain what it carries.
    pub in_doubt: bool,
    /// What it may carry, most likely first; empty unless at least two pins of this connector are in doubt.
    pub likely: Vec<PinChanceView>,
    /// Photos of this pin.
    pub photos: Vec<PhotoView>,
}

/// What a pin in doubt may carry.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct PinChanceView {
    /// Point of the circuit.
    pub point: String,
    /// Its name.
    pub name: BothLanguages,
    /// Probability.
    pub probability: f64,
}

/// Something that is switched, plugged or fitted.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct StateVariableView {
    /// Variable id ("key", "relay", "module_connector").
    pub id: String,
    /// Name.
    pub name: BothLanguages,
    /// Positions in order.
    pub positions: Vec<ChoiceView>,
    /// Usual position.
    pub usual: String,
}

/// One choice with its name.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct ChoiceView {
    /// Id.
    pub id: String,
    /// Name.
    pub name: BothLanguages,
}

/// A test of the circuit: what to do with the meter or the eyes.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct TestView {
    /// Test id.
    pub id: String,
    /// What to do, in a short sentence.
    pub title: BothLanguages,
    /// Meter mode.
    pub mode: MeterMode,
    /// Red lead's point, empty for a look.
    pub red: String,
    /// Black lead's point, empty for a look.
    pub black: String,
    /// Positions that the test needs.
    pub state: BTreeMap<String, String>,
    /// Substitute load's id, or empty.
    pub load: String,
    /// Minutes it takes.
    pub minutes: f64,
    /// Caution codes that have to be acknowledged first.
    pub cautions: Vec<String>,
    /// The number it is about: the value, or the lowest or highest of a minimum/maximum recording.
    #[ts(type = "'value' | 'lowest' | 'highest'")]
    pub compares: String,
    /// What is done to the circuit meanwhile; null where it is left alone.
    pub condition: Option<ReadingCondition>,
    /// What a healthy circuit shows in volts, ohms or amps, for tests that are offered; null when it is not a number.
    pub expected: Option<f64>,
}
