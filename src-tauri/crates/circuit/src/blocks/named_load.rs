//! A load that isn't on the list: its name and complaint in the technician's words, and one number. Everything else is what
//! such loads have in common.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::blocks::faults::{WireRow, short};
use crate::blocks::load::{Asking, Load, LoadIds, LoadKind, LoadWires, LoadWords};
use crate::blocks::phrases::say;
use crate::check::hidden::is_hidden;
use crate::error::CircuitError;
use crate::file::fault::{Basis, FaultMode, FaultSpec};

/// The name that stands for all of them.
pub const NAMED: &str = "named";

/// What may ask for any of them, by ids of the list of switches.
pub const NAMED_ASKED_BY: [&str; 4] = ["control_switch", "bus_request", "command", "temperature_switch"];

/// A load in the technician's words.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NamedLoad {
    /// What it is called: "rear wiper motor". Stands in both languages.
    pub name: String,
    /// What doesn't work: "Rear wiper dead". Stands in both languages.
    pub complaint: String,
    /// What sort of load it is.
    pub sort: NamedKind,
    /// What is known of it.
    pub stated: Stated,
}

/// Sort of load.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum NamedKind {
    /// Motor, pump, fan, horn: anything that may jam.
    Motor,
    /// Filament lamp.
    Lamp,
    /// Heater, LED lamp, or anything else that just draws current.
    Heater,
    /// Solenoid, valve, clutch: pulls in.
    Magnet,
}

/// The one number.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Stated {
    /// What it draws while it works at 12 V, ampere.
    Amps(f64),
    /// What it measures cold and at rest, ohm.
    Ohms(f64),
}

/// What a wire of a vehicle's body carries, ampere.
const AMPS: (f64, f64) = (0.05, 30.0);
/// The same as it measures: a motor's or a lamp's cold ohms are far below those at work.
const OHMS: (f64, f64) = (0.02, 240.0);
/// A filament cold has about a tenth of its hot ohms (common practice).
const HOT_OVER_COLD: f64 = 10.0;
/// A motor at work draws about a quarter of what it draws standing still (judgment).
const RUNNING_OVER_STALLED: f64 = 4.0;
/// Letters of the name and of the complaint.
const NAME_LETTERS: usize = 40;
const COMPLAINT_LETTERS: usize = 120;
/// Ratings of blade and bolt-down fuses, ampere (ISO 8820-3 and -5 series, from memory).
const RATINGS: [f64; 14] = [1.0, 2.0, 3.0, 5.0, 7.5, 10.0, 15.0, 20.0, 25.0, 30.0, 40.0, 60.0, 80.0, 100.0];
/// A fuse is rated so far above what its load draws (judgment).
const FUSE_OVER_LOAD: f64 = 1.6;
/// Largest current of a wire size: A, mm² (common practice for short runs, judgment).
const WIRES: [(f64, f64); 6] =
    [(6.0, 0.75), (10.0, 1.5), (16.0, 2.5), (25.0, 4.0), (40.0, 6.0), (f64::INFINITY, 10.0)];

impl NamedLoad {
    /// A row like those of the list.
    pub(super) fn load(&self) -> Result<Load, CircuitError> {
        let name = words("load/name", &self.name, NAME_LETTERS)?;
        let complaint = words("load/complaint", &self.complaint, COMPLAINT_LETTERS)?;
        let ohms = self.working_ohms()?;
        let amps = 12.0 / ohms;
        let fuse = RATINGS.iter().find(|rating| **rating >= FUSE_OVER_LOAD * amps);
        Ok(Load {
            id: NAMED.to_owned(),
            ids: LoadIds {
                name: "load".to_owned(),
                part: "load".to_owned(),
                points: "load".to_owned(),
                works: "load_works".to_owned(),
            },
            kind: self.kind(ohms),
            tolerance_percent: 20.0,
            works_at_volts: 7.0,
            miss: 0.02,
            fuse_amps: fuse.copied().unwrap_or(100.0),
            amps: Some((tenth(0.6 * amps), tenth(1.5 * amps + 0.1))),
            faults: self.faults(ohms),
            wires: wires(amps),
            cautions: match self.sort {
                NamedKind::Motor | NamedKind::Magnet => vec!["moving_parts".to_owned()],
                NamedKind::Lamp | NamedKind::Heater => Vec::new(),
            },
            asked_by: NAMED_ASKED_BY.map(str::to_owned).into(),
            conditions: Vec::new(),
            usual_module: None,
            words: phrases(&name, &complaint),
        })
    }

    /// Volts over amperes while it works at 12 V.
    fn working_ohms(&self) -> Result<f64, CircuitError> {
        let (value, (least, most), unit) = match self.stated {
            Stated::Amps(amps) => (amps, AMPS, "A"),
            Stated::Ohms(ohms) => (ohms, OHMS, "ohm"),
        };
        let outside = CircuitError::OutOfRange {
            place: "load/stated".to_owned(),
            value: value.to_string(),
            least: least.to_string(),
            most: most.to_string(),
            unit,
        };
        if !(least..=most).contains(&value) {
            return Err(outside);
        }
        let ohms = match (self.stated, self.sort) {
            (Stated::Amps(amps), _) => 12.0 / amps,
            (Stated::Ohms(cold), NamedKind::Lamp) => HOT_OVER_COLD * cold,
            (Stated::Ohms(still), NamedKind::Motor) => RUNNING_OVER_STALLED * still,
            (Stated::Ohms(ohms), NamedKind::Heater | NamedKind::Magnet) => ohms,
        };
        // A heater of a hundredth of an ohm would draw more than any wire here carries.
        if 12.0 / ohms > AMPS.1 { Err(outside) } else { Ok(short(ohms)) }
    }

    fn kind(&self, ohms: f64) -> LoadKind {
        match self.sort {
            NamedKind::Motor => {
                LoadKind::Motor { ohms, stalled_ohms: Some(short(ohms / RUNNING_OVER_STALLED)) }
            }
            NamedKind::Lamp => LoadKind::Lamp { ohms, cold_ohms: short(ohms / HOT_OVER_COLD) },
            NamedKind::Heater => LoadKind::Heater { ohms },
            NamedKind::Magnet => LoadKind::Magnet { ohms, pull_in_volts: 7.0, drop_out_volts: 2.0 },
        }
    }

    /// How such loads fail: odds as of those on the list (judgment).
    fn faults(&self, ohms: f64) -> Vec<FaultSpec> {
        let plain = |mode, odds, comes_and_goes| FaultSpec {
            mode,
            min: None,
            max: None,
            at: None,
            odds,
            basis: Basis::Judgment,
            comes_and_goes,
        };
        let spec = |mode, min, max, odds, comes_and_goes| FaultSpec {
            min: Some(min),
            max: Some(max),
            ..plain(mode, odds, comes_and_goes)
        };
        let open = if self.sort == NamedKind::Lamp { 3.0 } else { 1.2 };
        let mut all = vec![
            plain(FaultMode::Open, open, 0.2),
            spec(FaultMode::HighResistance, short(0.25 * ohms), short(1e4 * ohms), 0.6, 0.3),
        ];
        if matches!(self.sort, NamedKind::Motor | NamedKind::Magnet) {
            all.push(plain(FaultMode::Jammed, 0.6, 0.1));
        }
        if self.sort != NamedKind::Lamp {
            all.push(spec(FaultMode::DrawsTooMuch, 0.05, 0.7, 0.2, 0.0));
        }
        all
    }
}

fn tenth(value: f64) -> f64 {
    (value * 10.0).round() / 10.0
}

fn wires(amps: f64) -> LoadWires {
    let area_mm2 = WIRES.iter().find(|(most, _)| amps <= *most).map_or(10.0, |(_, area)| *area);
    let row = |length_m, high_resistance, open, short_to_ground| WireRow {
        length_m,
        area_mm2,
        high_resistance,
        open,
        short_to_ground,
        short_to_feed: 0.0,
        short_ohms: 0.01,
    };
    LoadWires {
        feed: row(0.5, 0.3, 0.2, 0.0),
        output: row(2.5, 0.54, 0.36, 0.16),
        ground: Some(row(0.7, 0.54, 0.36, 0.0)),
    }
}

/// Trimmed, in one line, and with every letter to be seen.
fn words(place: &str, typed: &str, most: usize) -> Result<String, CircuitError> {
    let typed = typed.trim();
    let refuse = |problem: String| CircuitError::Field { place: place.to_owned(), problem };
    if typed.is_empty() || typed.chars().count() > most {
        return Err(refuse(format!("write 1 to {most} letters")));
    }
    if typed.chars().any(is_hidden) {
        return Err(refuse("a character that nobody sees: type this text anew".to_owned()));
    }
    Ok(typed.to_owned())
}

/// The technician's words in phrases of both languages, so that articles and genders never matter in Spanish.
fn phrases(typed: &str, complaint: &str) -> LoadWords {
    let name = without_article(typed);
    LoadWords {
        relay: say(format!("Relay for the {name}"), format!("Relé de «{name}»")),
        part: say(name, name),
        name: say(name, format!("de «{name}»")),
        to: say(format!("to the {name}"), format!("a «{name}»")),
        of: say(format!("of the {name}"), format!("de «{name}»")),
        works: say(format!("does the {name} work?"), format!("¿funciona «{name}»?")),
        does: say(format!("Does the {name} work"), format!("¿Funciona «{name}»")),
        complaint: say(complaint, complaint),
        everyday: Some(say(format!("the {name}"), format!("«{name}»"))),
        across: say(format!("Across the {name} connector"), format!("Entre los pines de «{name}»")),
        connector: say(format!("{name} connector"), format!("conector de «{name}»")),
        asking: Asking {
            asked: say(format!("{name} commanded on"), format!("al pedir «{name}»")),
            when_it: say("when it is commanded on", "cuando se pide"),
            when: say(format!("when the {name} is commanded on"), format!("al pedir «{name}»")),
        },
    }
}

/// "the wiper" is spoken of as "the wiper", not as "the the wiper".
fn without_article(typed: &str) -> &str {
    match typed.split_at_checked(4) {
        Some((article, rest)) if article.eq_ignore_ascii_case("the ") && !rest.trim().is_empty() => {
            rest.trim()
        }
        _ => typed,
    }
}
