//! From what was typed to an entry of the engine. Numbers and codes are read here; everything else is its check's.

use crate::entry::{
    OwnCircuitEntry, OwnConnectorEntry, OwnModuleEntry, OwnOutputEntry, OwnPartEntry, OwnPinEntry,
};
use crate::show;
use circuit::entered::*;
use circuit::{ColorCode, Problem, ProblemCode};
use serde::de::DeserializeOwned;

/// The entry, or every field that can't be read.
pub(super) fn entered(entry: &OwnCircuitEntry) -> Result<Entered, Vec<Problem>> {
    let mut typed = Typed { problems: Vec::new() };
    let parts = entry.parts.iter().enumerate().filter_map(|(i, part)| typed.part(i, part)).collect();
    let connectors = entry.connectors.iter().enumerate().map(|(i, one)| typed.connector(i, one)).collect();
    let modules = entry.modules.iter().enumerate();
    let modules = modules.filter_map(|(i, module)| typed.module(&format!("modules/{i}"), module)).collect();
    let works_while = match entry.works_while.trim() {
        "" => Some(WorksWhile::default()),
        typed_code => typed.choice("works_while", typed_code),
    };
    let entered = Entered {
        title: entry.title.trim().to_owned(),
        source: entry.source.trim().to_owned(),
        complaint: entry.complaint.trim().to_owned(),
        works: entry.works.trim().to_owned(),
        works_while: works_while.unwrap_or_default(),
        parts,
        connectors,
        out_of_reach: named(&entry.out_of_reach),
        never_load: named(&entry.never_load),
        module: None,
        modules,
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
            "splice" => EnteredKind::Splice { others: named(&part.others) },
            "sensor" => self.sensor(place, part)?,
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

    fn sensor(&mut self, place: &str, part: &OwnPartEntry) -> Option<EnteredKind> {
        let percent = self.number(&format!("{place}/percent"), &part.percent);
        let ohms = self.perhaps(&format!("{place}/ohms"), &part.ohms);
        let signal = part.signal.trim().to_owned();
        Some(EnteredKind::Sensor { signal, percent: percent?, ohms: ohms? })
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
        let color = self.colours(&format!("{place}/colour"), &part.colour);
        Some(EnteredKind::Wire { length_m: length?, size: size?, color })
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

    fn colours(&mut self, place: &str, typed: &str) -> Vec<ColorCode> {
        let letters: Vec<char> = typed.chars().filter(|c| c.is_ascii_alphabetic()).collect();
        let codes = letters.chunks(2).map(|pair| pair.iter().collect::<String>().to_uppercase());
        codes.filter_map(|code| self.choice(place, &code)).collect()
    }

    fn connector(&mut self, i: usize, connector: &OwnConnectorEntry) -> EnteredConnector {
        let mut pin = |(k, pin): (usize, &OwnPinEntry)| EnteredPin {
            number: pin.number.trim().to_owned(),
            point: pin.point.trim().to_owned(),
            color: self.colours(&format!("connectors/{i}/pins/{k}/colour"), &pin.colour),
        };
        let pins = connector.pins.iter().enumerate().map(&mut pin).collect();
        EnteredConnector { name: connector.name.trim().to_owned(), pins }
    }

    fn module(&mut self, place: &str, module: &OwnModuleEntry) -> Option<EnteredModule> {
        let inputs = module.inputs.iter().enumerate();
        let inputs: Vec<Option<EnteredInput>> = inputs
            .map(|(i, input)| {
                let asked_by = self.choice(&format!("{place}/inputs/{i}/asked_by"), &input.asked_by)?;
                Some(EnteredInput { point: input.point.trim().to_owned(), asked_by })
            })
            .collect();
        let outputs = module.outputs.iter().enumerate();
        let outputs: Vec<Option<EnteredOutput>> =
            outputs.map(|(i, one)| self.output(&format!("{place}/outputs/{i}"), one)).collect();
        let (high, low) = (module.can_high.trim(), module.can_low.trim());
        let can = (!high.is_empty() || !low.is_empty()).then(|| EnteredCan {
            high: high.to_owned(),
            low: low.to_owned(),
            terminated: module.can_terminated,
        });
        Some(EnteredModule {
            name: module.name.trim().to_owned(),
            feed: module.feed.trim().to_owned(),
            ground: module.ground.trim().to_owned(),
            inputs: inputs.into_iter().collect::<Option<_>>()?,
            outputs: outputs.into_iter().collect::<Option<_>>()?,
            references: module.references.iter().map(|point| point.trim().to_owned()).collect(),
            sensor_grounds: module.sensor_grounds.iter().map(|point| point.trim().to_owned()).collect(),
            can,
            ..EnteredModule::default()
        })
    }

    fn output(&mut self, place: &str, output: &OwnOutputEntry) -> Option<EnteredOutput> {
        let drives = self.choice(&format!("{place}/drives"), &output.drives);
        let duty_percent = self.perhaps(&format!("{place}/duty_percent"), &output.duty_percent);
        let asked_by = match output.asked_by.trim() {
            "" | "all" => None,
            "bus" => Some(Vec::new()),
            point => Some(vec![point.to_owned()]),
        };
        let point = output.point.trim().to_owned();
        Some(EnteredOutput { point, drives: drives?, duty_percent: duty_percent?, asked_by })
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
