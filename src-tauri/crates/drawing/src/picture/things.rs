//! The things in a drawing.

use schemars::JsonSchema;
use serde::Serialize;
use ts_rs::TS;

use super::{Anchor, Judged, Lead, Look, Sign};

/// A thick bar: a rail or a splice.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureBar")]
pub struct Bar {
    /// Left end (upper end of an upright piece).
    pub x: f64,
    /// Its height.
    pub y: f64,
    /// Right end.
    pub to_x: f64,
    /// Lower end.
    pub to_y: f64,
    /// Lit or not.
    pub look: Look,
    /// Points it stands for.
    pub points: Vec<String>,
}

/// A wire.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureWire")]
pub struct Wire {
    /// Corners.
    pub path: Vec<[f64; 2]>,
    /// IEC 60757 codes, base and stripe; empty = unknown.
    pub colors: Vec<String>,
    /// Lit, dimmed or neither.
    pub look: Look,
    /// Parts that it stands for.
    pub parts: Vec<String>,
}

/// A box.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureBox")]
pub struct Frame {
    /// Left edge.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Relays are open boxes, all others filled.
    pub relay: bool,
    /// Lit, dimmed or neither.
    pub look: Look,
    /// Module, or the part it is drawn for.
    pub id: String,
    /// Parts inside.
    pub parts: Vec<String>,
}

/// A thin line inside a box: from a pin to a symbol, or (dashed) between a coil and the contact that it moves.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureLink")]
pub struct Link {
    /// Ends.
    pub path: Vec<[f64; 2]>,
    /// Moves rather than carries current.
    pub dashed: bool,
    /// Lit, dimmed or neither.
    pub look: Look,
}

/// A part's symbol.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureSymbol")]
pub struct Symbol {
    /// What it shows.
    pub sign: Sign,
    /// Middle.
    pub x: f64,
    /// Middle.
    pub y: f64,
    /// Current runs sideways: the symbol is turned by 90°.
    pub turned: bool,
    /// The movable piece of a contact points left.
    pub mirrored: bool,
    /// Switches and contacts: closed in the shown state.
    pub closed: Option<bool>,
    /// Lit, dimmed or neither.
    pub look: Look,
    /// Taken out in the shown state.
    pub absent: bool,
    /// Something else is fitted in its place in the shown state (a lead, a lamp, a known-good relay): its part.
    pub replaced_by: Option<String>,
    /// The part.
    pub part: String,
}

/// A text.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureName")]
pub struct Name {
    /// One or two lines, 17 px apart.
    pub lines: Vec<String>,
    /// Where the anchor is.
    pub x: f64,
    /// Baseline of the first line.
    pub y: f64,
    /// Left, middle or right.
    pub anchor: Anchor,
    /// Size of the letters.
    pub size: f64,
    /// A pin number rather than a name.
    pub pin: bool,
    /// Dimmed names are lighter.
    pub look: Look,
    /// Parts that it names.
    pub parts: Vec<String>,
}

/// A reading.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureBead")]
pub struct Bead {
    /// Middle.
    pub x: f64,
    /// Middle.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// The number.
    pub number: String,
    /// Its unit.
    pub unit: String,
    /// What is written.
    pub text: String,
    /// Good, too low or too high.
    pub judged: Judged,
    /// Taken in the shown state; else it is hollow.
    pub now: bool,
    /// From where to where it was measured, if not against the negative post: a line beside the wire.
    pub across: Option<[[f64; 2]; 2]>,
    /// One point, or two that it lies between.
    pub points: Vec<String>,
    /// The observation.
    pub observation: String,
}

/// A point where a lead can go.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureRing")]
pub struct Ring {
    /// Middle.
    pub x: f64,
    /// Middle.
    pub y: f64,
    /// The point.
    pub point: String,
}

/// A suspect: its area is its likelihood.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureDisc")]
pub struct Disc {
    /// Middle.
    pub x: f64,
    /// Middle.
    pub y: f64,
    /// Radius: 38·√likelihood, at least 14.
    pub radius: f64,
    /// Likelihood of all its parts together.
    pub share: f64,
    /// What is written.
    pub text: String,
    /// Size of its figures.
    pub size: f64,
    /// The parts; more than one = a second ring.
    pub parts: Vec<String>,
}

/// Bull's-eye: the next test's lead goes here.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureEye")]
pub struct Eye {
    /// Middle.
    pub x: f64,
    /// Middle.
    pub y: f64,
    /// Which lead.
    pub lead: Lead,
    /// The point.
    pub point: String,
}

/// A lead with its plate.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PicturePlate")]
pub struct Plate {
    /// Left edge of the plate.
    pub x: f64,
    /// Upper edge.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// Which lead.
    pub lead: Lead,
    /// What is written.
    pub text: String,
    /// The lead's tip, at the bull's-eye.
    pub tip: [f64; 2],
    /// Where the lead ends under the plate.
    pub end: [f64; 2],
    /// The point.
    pub point: String,
}

/// A run of parts that are all proven, folded.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureCapsule")]
pub struct Capsule {
    /// Middle.
    pub x: f64,
    /// Middle.
    pub y: f64,
    /// Width.
    pub width: f64,
    /// Height.
    pub height: f64,
    /// What is written.
    pub text: String,
    /// The parts.
    pub parts: Vec<String>,
}

/// A branch that is folded away: an arrow out of the picture.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureStub")]
pub struct Stub {
    /// Tip of the arrow.
    pub x: f64,
    /// Tip of the arrow.
    pub y: f64,
    /// The arrow points up.
    pub up: bool,
    /// The parts.
    pub parts: Vec<String>,
}

/// What a tap finds: 48 px round a point; the nearest wins.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureTouch")]
pub struct Touch {
    /// Middle.
    pub x: f64,
    /// Middle.
    pub y: f64,
    /// Width and height.
    pub size: f64,
    /// The point.
    pub point: String,
}

/// A reading, suspect or lead that has no place in the drawing.
#[derive(Debug, Clone, Default, PartialEq, Serialize, JsonSchema, TS)]
#[ts(rename = "PictureListed")]
pub struct Listed {
    /// Points.
    pub points: Vec<String>,
    /// Parts.
    pub parts: Vec<String>,
    /// Name of it, in the drawing's language.
    pub name: String,
    /// The reading with its unit.
    pub text: String,
    /// Good, too low or too high.
    pub judged: Judged,
    /// Likelihood of the parts.
    pub share: f64,
    /// A lead of the next test goes here.
    pub lead: Option<Lead>,
    /// The observation; empty = none.
    pub observation: String,
}
