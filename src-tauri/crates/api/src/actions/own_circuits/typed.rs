//! From what was typed to an entry of the engine. Numbers and codes are read here; everything else is its check's.

use crate::entry::{OwnCircuitEntry, OwnConnectorEntry, OwnModuleEntry, OwnPartEntry, OwnPinEntry};
use crate::show;
use circuit::entered::*;
use circuit::{ColourCode, Problem, ProblemCode};
use serde::de::DeserializeOwned;

/// The entry, or every field that can't be read.
pub(super) fn entered(entry: &OwnCircuitEntry) -> Result<Entered, Vec<Problem>> {
    let mut typed = Typed { problems: Vec::new() };
    let parts = entry.parts.iter().enumerate().filter_map(|(i, part)| typed.part(i, part)).collect();
    let connectors = entry.connectors.iter().enumerate().map(|(i, one)| typed.connector(i, one)).collect();
    let module = entry.module.as_ref().and_then(|module| typed.module(module));
    let entered = Entered {
        title: entry.title.trim().to_owned(),
        source: entry.source.trim().to_owned(),
        complaint: entry.complaint.trim().to_owned(),
        works: entry.works.trim().to_owned(),
        parts,
        connectors,
        out_of_reach: named(&entry.out_of_reach),
        never_load: named(&entry.never_load),
        module,
    };
    if typed.problems.is_empty() { Ok(entered) } else { Err(typed.problems) }
}

fn named(points: &[String]) -> Vec<String> {
    points.iter().map(|point| point.trim().to_owned()).filter(|point| !point.is_empty()).collect()
}

struct Typed {
    problems: Vec<Problem>,
}

impl Typed {
    fn part(&mut self, i: usize, part: &OwnPartEntry) -> Option<EnteredPart> {
        let kind = self.kind(&format!("parts/{i}"), part)?;
        Some(EnteredPart {
            name: part.name.trim().to_owned(),
            from: part.from.trim().to_owned(),
            to: part.to.trim().to_owned(),
            kind,
        })
    }

    fn kind(&mut self, place: &str, part: &OwnPartEntry) -> Option<EnteredKind> {
        let at = |field: &str| format!("{place}/{field}");
        Some(match part.kind.as_str() {
            "battery" => EnteredKind::Battery {},
            "fuse" => EnteredKind::Fuse { amps: self.number(&at("amps"), &part.amps)? },
            "wire" => self.wire(place, part)?,
            "connection" => EnteredKind::Connection {},
            "switch" => EnteredKind::Switch { closed_by: self.choice(&at("closed_by"), &part.closed_by)? },
            "relay_coil" => EnteredKind::RelayCoil {
                relay: part.relay.trim().to_owned(),
                ohms: self.perhaps(&at("ohms"), &part.ohms)?,
            },
            "relay_contact" => EnteredKind::RelayContact {
                relay: part.relay.trim().to_owned(),
                closed_at_rest: part.closed_at_rest,
            },
            "lamp" => EnteredKind::Lamp { watts: self.number(&at("watts"), &part.watts)? },
            "motor" => EnteredKind::Motor { amps: self.number(&at("amps"), &part.amps)? },
            "load" => EnteredKind::Load { ohms: self.number(&at("ohms"), &part.ohms)? },
            "resistor" => EnteredKind::Resistor { ohms: self.number(&at("ohms"), &part.ohms)? },
            "diode" => EnteredKind::Diode {},
            "thermistor" => EnteredKind::Thermistor { ohms_25: self.number(&at("ohms"), &part.ohms)? },
            other => return self.not_listed(&at("kind"), other),
        })
    }

    /// Both numbers are read before either refuses, so that both problems are shown.
    fn wire(&mut self, place: &str, part: &OwnPartEntry) -> Option<EnteredKind> {
        let length = self.number(&format!("{place}/length_m"), &part.length_m);
        let at = format!("{place}/size");
        let size = match part.size_unit.as_str() {
            "awg" => self.awg(&at, &part.size).map(WireSize::Awg),
            "mm2" => self.number(&at, &part.size).map(WireSize::Mm2),
            other => self.not_listed(&format!("{place}/size_unit"), other),
        };
        let colour = self.colours(&format!("{place}/colour"), &part.colour);
        Some(EnteredKind::Wire { length_m: length?, size: size?, colour })
    }

    /// "18", and "2/0" for the sizes above 1.
    fn awg(&mut self, place: &str, typed: &str) -> Option<i32> {
        let text = typed.trim();
        let number = match text.strip_suffix("/0") {
            Some(zeros) => zeros.parse::<i32>().ok().filter(|zeros| (1..=4).contains(zeros)).map(|n| 1 - n),
            None => text.parse::<i32>().ok(),
        };
        number.or_else(|| self.not_a_number(place, typed))
    }

    fn number(&mut self, place: &str, typed: &str) -> Option<f64> {
        let value = typed.trim().replace(',', ".").parse::<f64>().ok().filter(|value| value.is_finite());
        value.or_else(|| self.not_a_number(place, typed))
    }

    /// A number that may be left out: the outer `None` is one that can't be read.
    fn perhaps(&mut self, place: &str, typed: &str) -> Option<Option<f64>> {
        if typed.trim().is_empty() { Some(None) } else { self.number(place, typed).map(Some) }
    }

    fn colours(&mut self, place: &str, typed: &str) -> Vec<ColourCode> {
        let letters: Vec<char> = typed.chars().filter(|c| c.is_ascii_alphabetic()).collect();
        let codes = letters.chunks(2).map(|pair| pair.iter().collect::<String>().to_uppercase());
        codes.filter_map(|code| self.choice(place, &code)).collect()
    }

    fn connector(&mut self, i: usize, connector: &OwnConnectorEntry) -> EnteredConnector {
        let mut pin = |(k, pin): (usize, &OwnPinEntry)| EnteredPin {
            number: pin.number.trim().to_owned(),
            point: pin.point.trim().to_owned(),
            colour: self.colours(&format!("connectors/{i}/pins/{k}/colour"), &pin.colour),
        };
        let pins = connector.pins.iter().enumerate().map(&mut pin).collect();
        EnteredConnector { name: connector.name.trim().to_owned(), pins }
    }

    fn module(&mut self, module: &OwnModuleEntry) -> Option<EnteredModule> {
        let drives = self.choice("module/drives", &module.drives);
        let input = match module.input.trim() {
            "" => Some(None),
            point => self
                .choice("module/asked_by", &module.asked_by)
                .map(|asked_by| Some(EnteredInput { point: point.to_owned(), asked_by })),
        };
        Some(EnteredModule {
            name: module.name.trim().to_owned(),
            feed: module.feed.trim().to_owned(),
            ground: module.ground.trim().to_owned(),
            output: module.output.trim().to_owned(),
            drives: drives?,
            input: input?,
        })
    }

    fn choice<T: DeserializeOwned>(&mut self, place: &str, code: &str) -> Option<T> {
        show::from_code("choice", code).ok().or_else(|| self.not_listed(place, code))
    }

    fn not_listed<T>(&mut self, place: &str, code: &str) -> Option<T> {
        let problem = format!("{code:?} is not one of the choices");
        self.refuse(ProblemCode::NotListed, place, problem, "Choose one that is listed")
    }

    fn not_a_number<T>(&mut self, place: &str, typed: &str) -> Option<T> {
        let problem = format!("{typed:?} is not a number");
        self.refuse(ProblemCode::Number, place, problem, "Write a number such as 1.5")
    }

    fn refuse<T>(&mut self, code: ProblemCode, place: &str, problem: String, remedy: &str) -> Option<T> {
        let (place, remedy) = (place.to_owned(), remedy.to_owned());
        self.problems.push(Problem { code, place, line: None, problem, remedy });
        None
    }
}
