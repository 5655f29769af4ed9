//! The circuit file: points, connectors, parts, states, loads, tests, modules.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::file::component::Component;
use crate::file::module::Module;
use crate::file::procedure::Test;
use crate::file::text::Text;

/// One circuit, as one JSON file. Read it with [`Circuit::from_json`], which checks it.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Circuit {
    /// Version of this file format; 1.
    pub format: u32,
    /// Short name, unique in the library.
    pub id: String,
    /// Version of this circuit's data; grows with every change.
    pub version: u32,
    /// Display name.
    pub title: Text,
    /// One or two sentences on what it is.
    pub about: Text,
    /// The complaint this circuit is opened for.
    pub complaint: Complaint,
    /// What the customer calls the thing that doesn't work, with its article: "the radiator fan". For readers who know no
    /// circuits.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub everyday: Option<Text>,
    /// Point at 0 V, normally the battery's negative post.
    pub reference: String,
    /// Everything that can have a voltage.
    pub points: Vec<Point>,
    /// Connectors with their pins.
    pub connectors: Vec<Connector>,
    /// Parts.
    pub components: Vec<Component>,
    /// What can be switched, fitted or plugged.
    pub variables: Vec<Variable>,
    /// Loads that may be put in place of a part.
    #[serde(default)]
    pub loads: Vec<SubstituteLoad>,
    /// Tests.
    pub tests: Vec<Test>,
    /// Modules whose call is guarded.
    #[serde(default)]
    pub modules: Vec<Module>,
    /// Prior odds of "something this circuit doesn't contain", on the scale of the faults' odds.
    #[serde(rename = "unmodelled_odds")]
    pub unmodeled_odds: f64,
    /// Where values come from.
    pub sources: Vec<String>,
}

/// A place with a voltage.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Point {
    /// Short name.
    pub id: String,
    /// Display name.
    pub name: Text,
    /// Name in the drawing: at most two lines of ten letters.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub label: Option<Text>,
    /// Place in the drawing, grid units, rightwards.
    pub x: f64,
    /// Place in the drawing, grid units, downwards.
    pub y: f64,
    /// A lead can reach it (points inside a module can't be reached).
    pub reachable: bool,
    /// Nothing may be loaded or bridged here: data lines, 5 V references, air-bag circuits.
    #[serde(default)]
    pub never_load: bool,
}

/// Complaint and how it shows in the model.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Complaint {
    /// In words.
    pub name: Text,
    /// The yes/no test that shows it.
    pub test: String,
    /// The answer that is the complaint (false: "does the fan run?" — no).
    pub answer: bool,
}

/// A connector seen from its mating face.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Connector {
    /// Short name.
    pub id: String,
    /// Display name.
    pub name: Text,
    /// Pins.
    pub pins: Vec<Pin>,
}

/// A pin.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Pin {
    /// Number or terminal designation.
    pub number: String,
    /// The point behind it.
    pub point: String,
    /// Column on the face.
    pub x: f64,
    /// Row on the face.
    pub y: f64,
    /// Wire color: base, then stripe. Empty = no wire.
    #[serde(rename = "colour")]
    pub color: Vec<ColorCode>,
    /// What it does.
    pub function: Text,
}

/// Color codes of IEC 60757 (as listed in a stored reference page, GOST 28763-90 = IEC 757:1983).
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "UPPERCASE")]
#[allow(missing_docs, reason = "each code is its own meaning in IEC 60757")]
pub enum ColorCode {
    Bk,
    Bn,
    Rd,
    Og,
    Ye,
    Gn,
    Bu,
    Vt,
    Gy,
    Wh,
    Pk,
    Gd,
    Tq,
    Sr,
    Gnye,
}

/// A state variable.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Variable {
    /// Short name.
    pub id: String,
    /// Display name.
    pub name: Text,
    /// Values.
    pub values: Vec<VariableValue>,
    /// Value when nothing is said.
    pub default: String,
}

/// One value of a state variable.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct VariableValue {
    /// Short name.
    pub id: String,
    /// Display name.
    pub name: Text,
}

/// A load put in place of a part: never more current than that part draws. A test lamp draws about ten times its hot
/// current while cold, so it needs `cold_ohms`, and one heavier than the part itself needs the maker's limit.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct SubstituteLoad {
    /// Short name.
    pub id: String,
    /// Display name.
    pub name: Text,
    /// One side.
    pub from: String,
    /// Other side.
    pub to: String,
    /// Resistance, ohm (a lamp's: hot).
    pub ohms: f64,
    /// Cold resistance of a test lamp, ohm.
    #[serde(default)]
    pub cold_ohms: Option<f64>,
    /// ± percent (95 %).
    pub tolerance_percent: f64,
    /// The part it stands for.
    pub replaces: String,
    /// What the maker allows at that output, amperes; unknown = not more than the part it stands for.
    #[serde(default)]
    pub maker_limit_amps: Option<f64>,
}
