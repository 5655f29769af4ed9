//! The drawing as data: a screen draws it one to one and knows nothing else.
//!
//! All places and sizes are px; x runs rightwards, y downwards. Whatever stands for parts or points carries their ids.

mod things;

pub use things::*;

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

/// How far a part is cleared.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(rename = "PictureLook")]
pub enum Look {
    /// Neither.
    #[default]
    Plain,
    /// A reading on it shows that it does its work: lit.
    Proven,
    /// It can't explain the readings: dimmed.
    RuledOut,
}

/// A reading against what a healthy circuit shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(rename = "PictureJudged")]
pub enum Judged {
    /// Nothing to hold it against.
    #[default]
    Unknown,
    /// As it should be.
    Good,
    /// Too low.
    Low,
    /// Too high.
    High,
}

/// A lead of the meter.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(rename = "PictureLead")]
pub enum Lead {
    /// Red.
    #[default]
    Red,
    /// Black.
    Black,
}

/// Where a text hangs on its place.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(rename = "PictureAnchor")]
pub enum Anchor {
    /// Its left end.
    #[default]
    Start,
    /// Its middle.
    Middle,
    /// Its right end.
    End,
}

/// What a symbol shows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, JsonSchema, TS)]
#[serde(rename_all = "snake_case")]
#[ts(rename = "PictureSign")]
pub enum Sign {
    /// Fuse: 18 × 30.
    Fuse,
    /// Switch: 16 × 32.
    Switch,
    /// Contact of a relay: 16 × 32.
    Contact,
    /// Lamp: 32 × 32.
    Lamp,
    /// Motor: 32 × 32.
    Motor,
    /// Diode: 22 × 22.
    Diode,
    /// Coil: 26 × 34.
    Coil,
    /// Thermistor: 22 × 32.
    Thermistor,
    /// Pick-up beside its wheel: 26 × 34.
    PickUp,
    /// Anything with a resistance: 22 × 32.
    #[default]
    Resistor,
}

/// The drawing.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct Picture {
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// False: the circuit can't be drawn, everything is in `listed`.
    pub drawn: bool,
    /// How far it is folded: 0 = not.
    pub folded: u32,
    /// Rails and splices.
    pub bars: Vec<Bar>,
    /// Wires.
    pub wires: Vec<Wire>,
    /// Boxes.
    pub boxes: Vec<Frame>,
    /// Lines inside boxes.
    pub links: Vec<Link>,
    /// Symbols.
    pub symbols: Vec<Symbol>,
    /// Texts.
    pub names: Vec<Name>,
    /// Points that weren't measured.
    pub rings: Vec<Ring>,
    /// Readings.
    pub beads: Vec<Bead>,
    /// Folded runs.
    pub capsules: Vec<Capsule>,
    /// Folded branches.
    pub stubs: Vec<Stub>,
    /// Suspects.
    pub discs: Vec<Disc>,
    /// Bull's-eyes.
    pub eyes: Vec<Eye>,
    /// Leads.
    pub plates: Vec<Plate>,
    /// Targets of a tap.
    pub touches: Vec<Touch>,
    /// What has no place in the drawing.
    pub listed: Vec<Listed>,
    /// Parts that are only in the list: branches for which there was no column.
    pub left_out: Vec<String>,
    /// Leads and spare parts that are on in the shown state and have no symbol of their own.
    pub aids: Vec<String>,
}
