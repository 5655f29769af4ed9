//! Field by field: what an entry must hold before a circuit can be made from it.

use std::collections::BTreeSet;

use crate::check::hidden::is_hidden;
use crate::check::problem::{Problem, ProblemCode};
use crate::entered::entry::{Entered, EnteredKind, EnteredPart};
use crate::entered::fields_module;
use crate::entered::modules::Built;
use crate::entered::size::WireSize;

/// Parts of an entry: with more, the first answer would take longer than anybody waits.
pub const MAX_PARTS: usize = 150;
/// Modules of an entry.
pub const MAX_MODULES: usize = 8;
/// Bytes of a name or phrase.
const MAX_WORDS: usize = 120;

/// Lowest and highest value of a number, with its unit.
type Range = (f64, f64, &'static str);
const LENGTH: Range = (0.01, 60.0, "m");
const AREA: Range = (0.1, 120.0, "mm²");
const AWG: Range = (-3.0, 30.0, "AWG");
const AMPS: Range = (0.05, 500.0, "A");
const WATTS: Range = (0.3, 300.0, "W");
const OHMS: Range = (0.01, 1e7, "ohm");
const COIL: Range = (0.2, 1000.0, "ohm");
const SENSOR: Range = (100.0, 1e6, "ohm");
const SHARE: Range = (5.0, 95.0, "%");

pub(super) fn check(entered: &Entered, modules: &[Built<'_>]) -> Vec<Problem> {
    let mut fields = Fields { problems: Vec::new() };
    for (place, words) in [
        ("title", &entered.title),
        ("source", &entered.source),
        ("complaint", &entered.complaint),
        ("works", &entered.works),
    ] {
        fields.words(place, words);
    }
    fields.count("parts", entered.parts.len(), MAX_PARTS);
    fields.count("connectors", entered.connectors.len(), 30);
    fields.count("modules", modules.len(), MAX_MODULES);
    if fields.problems.is_empty() {
        fields.parts(entered, modules);
        fields.relays(entered);
        fields.points(entered);
        fields_module::check(&mut fields, entered, modules);
    }
    fields.problems
}

pub(super) struct Fields {
    problems: Vec<Problem>,
}

impl Fields {
    pub(super) fn refuse(
        &mut self,
        code: ProblemCode,
        place: &str,
        problem: impl Into<String>,
        remedy: &str,
    ) {
        self.problems.push(Problem::new(code, place, problem, remedy));
    }

    pub(super) fn words(&mut self, place: &str, words: &str) {
        if words.trim().is_empty() || words.len() > MAX_WORDS {
            let problem = format!("{} bytes of text", words.len());
            self.refuse(ProblemCode::Name, place, problem, "Write 1 to 120 bytes");
        }
        // Ends of lines are written as spaces into the circuit.
        if words.chars().any(|c| is_hidden(c) && !matches!(c, '\n' | '\r' | '\t')) {
            let problem = "a character that nobody sees";
            self.refuse(ProblemCode::HiddenCharacter, place, problem, "Type this text anew");
        }
    }

    pub(super) fn count(&mut self, place: &str, many: usize, most: usize) {
        if many > most {
            let remedy = "Enter the part of the diagram that belongs to the complaint";
            self.refuse(ProblemCode::TooLarge, place, format!("{many} entries; at most {most}"), remedy);
        }
    }

    pub(super) fn number(&mut self, place: &str, value: f64, (low, high, unit): Range) {
        if !(low..=high).contains(&value) {
            let remedy = format!("Write {low} to {high} {unit}");
            self.refuse(ProblemCode::Number, place, format!("{value} {unit} is out of range"), &remedy);
        }
    }

    fn parts(&mut self, entered: &Entered, modules: &[Built<'_>]) {
        let mut names = BTreeSet::new();
        for (i, part) in entered.parts.iter().enumerate() {
            let place = |field: &str| format!("parts/{i}/{field}");
            self.words(&place("name"), &part.name);
            self.words(&place("from"), &part.from);
            self.words(&place("to"), &part.to);
            if !names.insert(part.name.trim()) {
                let remedy = "Give each part its own name";
                self.refuse(ProblemCode::Name, &place("name"), "this name is used twice", remedy);
            }
            if part.from.trim() == part.to.trim() {
                let remedy = "Name the point at the other end";
                self.refuse(ProblemCode::Contradiction, &place("to"), "both ends are one point", remedy);
            }
            self.kind(&part.kind, &place);
            self.further_points(part, &place);
        }
        let batteries =
            entered.parts.iter().filter(|part| matches!(part.kind, EnteredKind::Battery {})).count();
        if batteries != 1 {
            let remedy = "Enter one battery, from its positive to its negative post";
            self.refuse(ProblemCode::NoFeed, "parts", format!("{batteries} batteries"), remedy);
        }
        let works = entered.parts.iter().find(|part| part.name.trim() == entered.works.trim());
        let communicates = |module: &Built<'_>| module.can.is_some() && module.name == entered.works.trim();
        if !works.is_some_and(|part| part.kind.can_work()) && !modules.iter().any(communicates) {
            let remedy =
                "Name the motor, lamp, coil or other load that should work, a sensor, or a module on the bus";
            self.refuse(ProblemCode::NotListed, "works", "no such load", remedy);
        }
    }

    fn kind(&mut self, kind: &EnteredKind, place: &impl Fn(&str) -> String) {
        match *kind {
            EnteredKind::Fuse { amps } | EnteredKind::Motor { amps } => {
                self.number(&place("kind/amps"), amps, AMPS);
            }
            EnteredKind::Wire { length_m, size, .. } => {
                self.number(&place("kind/length_m"), length_m, LENGTH);
                match size {
                    WireSize::Mm2(area) => self.number(&place("kind/size"), area, AREA),
                    WireSize::Awg(number) => self.number(&place("kind/size"), f64::from(number), AWG),
                }
            }
            EnteredKind::RelayCoil { ohms: Some(ohms), .. } => self.number(&place("kind/ohms"), ohms, COIL),
            EnteredKind::Lamp { watts } => self.number(&place("kind/watts"), watts, WATTS),
            EnteredKind::Load { ohms } | EnteredKind::Resistor { ohms } => {
                self.number(&place("kind/ohms"), ohms, OHMS);
            }
            EnteredKind::Thermistor { ohms_25 } => self.number(&place("kind/ohms_25"), ohms_25, OHMS),
            EnteredKind::Sensor { percent, ohms, .. } => {
                self.number(&place("kind/percent"), percent, SHARE);
                if let Some(ohms) = ohms {
                    self.number(&place("kind/ohms"), ohms, SENSOR);
                }
            }
            _ => {}
        }
    }

    /// Points that a part names beside its two ends.
    fn further_points(&mut self, part: &EnteredPart, place: &impl Fn(&str) -> String) {
        let named: Vec<(String, &str)> = match &part.kind {
            EnteredKind::Splice { others } => {
                let others = others.iter().enumerate();
                others.map(|(i, point)| (place(&format!("kind/others/{i}")), point.as_str())).collect()
            }
            EnteredKind::Sensor { signal, .. } => vec![(place("kind/signal"), signal.as_str())],
            _ => return,
        };
        let mut here = vec![part.from.trim(), part.to.trim()];
        for (at, point) in named {
            self.words(&at, point);
            if here.contains(&point.trim()) {
                let remedy = "Name another point, or leave it out";
                self.refuse(ProblemCode::Contradiction, &at, "this point is named twice", remedy);
            }
            here.push(point.trim());
        }
    }

    /// Each relay has one coil, and contacts name a relay that has one.
    fn relays(&mut self, entered: &Entered) {
        let mut coils = BTreeSet::new();
        for (i, part) in entered.parts.iter().enumerate() {
            if let EnteredKind::RelayCoil { relay, .. } = &part.kind {
                self.words(&format!("parts/{i}/kind/relay"), relay);
                if !coils.insert(relay.trim()) {
                    let remedy = "Give each relay its own name";
                    let place = format!("parts/{i}/kind/relay");
                    self.refuse(ProblemCode::Name, &place, "this relay has a coil already", remedy);
                }
            }
        }
        for (i, part) in entered.parts.iter().enumerate() {
            if let EnteredKind::RelayContact { relay, .. } = &part.kind
                && !coils.contains(relay.trim())
            {
                let remedy = "Enter the coil of this relay, with the same name";
                let place = format!("parts/{i}/kind/relay");
                self.refuse(ProblemCode::NotListed, &place, format!("relay {relay:?} has no coil"), remedy);
            }
        }
    }

    /// Pins and marks name points that some part is at.
    fn points(&mut self, entered: &Entered) {
        let ends = entered.parts.iter().flat_map(|part| part.points());
        let known: BTreeSet<&str> = ends.collect();
        let mut named: Vec<(String, &str)> = Vec::new();
        for (i, connector) in entered.connectors.iter().enumerate() {
            self.words(&format!("connectors/{i}/name"), &connector.name);
            self.count(&format!("connectors/{i}/pins"), connector.pins.len(), 80);
            let pins = connector.pins.iter().enumerate();
            named.extend(pins.map(|(k, pin)| (format!("connectors/{i}/pins/{k}/point"), pin.point.as_str())));
        }
        for (field, list) in [("out_of_reach", &entered.out_of_reach), ("never_load", &entered.never_load)] {
            let list = list.iter().enumerate();
            named.extend(list.map(|(k, point)| (format!("{field}/{k}"), point.as_str())));
        }
        for (place, point) in named {
            if !known.contains(point.trim()) {
                let remedy = "Name a point that a part is at, or enter the wire that goes there";
                self.refuse(ProblemCode::NotListed, &place, format!("no part is at {point:?}"), remedy);
            }
        }
    }
}

impl EnteredKind {
    /// Can it be the part that should work?
    pub(super) const fn can_work(&self) -> bool {
        matches!(
            self,
            Self::RelayCoil { .. }
                | Self::Lamp { .. }
                | Self::Motor { .. }
                | Self::Load { .. }
                | Self::Sensor { .. }
                | Self::Thermistor { .. }
        )
    }
}
