//! The list of photographs to draw: `demo-data/photos.json`.

use chrono::{DateTime, FixedOffset};
use serde::Deserialize;

/// One photograph.
#[derive(Debug, Deserialize)]
pub struct Entry {
    /// File name in `demo-data/photos`, ending in `.jpg`; it is also the seed.
    pub file: String,
    /// RFC 3339 with the shop's offset; goes into EXIF.
    pub taken: DateTime<FixedOffset>,
    #[serde(flatten)]
    pub scene: Scene,
}

/// What is in the picture. Texts are drawn as given.
#[derive(Debug, Deserialize)]
#[serde(tag = "scene", rename_all = "snake_case")]
pub enum Scene {
    Meter(Meter),
    Socket(Socket),
    WireCorroded(Wire),
    ConnectorClean(Wire),
    VinLabel { vin: String, maker: String },
    Vehicle(Vehicle),
    Odometer { value: String, unit: String },
    Part { number: String, name: String, supplier: String },
    Receipt(Paper),
    Bill(Paper),
    ComplaintNote { text: String },
    Charger { volts: String },
}

/// A meter that shows a reading.
#[derive(Debug, Deserialize)]
pub struct Meter {
    /// Digits, minus, point, `OL`.
    pub value: String,
    /// As on the display: `V`, `mV`, `Ω`, `kΩ`, `A`.
    pub unit: String,
    /// `DC`, `AC` or empty.
    #[serde(default)]
    pub mode: String,
    /// Small words along the display's upper edge: `AUTO`, `HOLD`, `MIN`, `MAX`.
    #[serde(default)]
    pub annunciators: Vec<String>,
    /// Where the dial points: one of `off`, `V~`, `V=`, `mV`, `Ω`, `beep`, `A=`.
    pub setting: String,
    /// In a gloved hand over the engine bay instead of on the bench.
    #[serde(default)]
    pub held: bool,
}

/// A relay socket or a module's connector, seen on its face.
#[derive(Debug, Deserialize)]
pub struct Socket {
    /// `relay` (cavities 30, 85, 86, 87, 87a) or `rows×columns` such as `2x8` (cavities 1 to 16).
    pub layout: String,
    /// Cavities that a probe touches: the first in red, the second in black.
    #[serde(default)]
    pub marks: Vec<String>,
}

/// A wire at its connector.
#[derive(Debug, Deserialize)]
pub struct Wire {
    /// The wire in question, one of `orange`, `green`, `brown`, `blue`, `white`, `violet`.
    pub colour: String,
}

/// A vehicle as it arrived.
#[derive(Debug, Deserialize)]
pub struct Vehicle {
    /// `van` or `car`.
    pub kind: String,
    /// Paint: `white`, `blue`, `green`, `red`, `silver`.
    pub colour: String,
    pub plate: String,
}

/// A receipt, a quotation or a bill.
#[derive(Debug, Deserialize)]
pub struct Paper {
    #[serde(default)]
    pub title: String,
    pub supplier: String,
    /// Text and amount; the amount may be empty.
    pub lines: Vec<(String, String)>,
    pub total: String,
    #[serde(default)]
    pub note: String,
}
