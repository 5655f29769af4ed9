//! Points and parts by number, and which way current falls through them.

use std::collections::BTreeMap;

use circuit::{Circuit, Component, ComponentKind};

use crate::table::Table;

/// Rounds in which potentials settle (a chain of twenty parts is within a thousandth by then).
const ROUNDS: usize = 600;

/// Sort of part, as far as a drawing tells them apart.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub enum Kind {
    Battery,
    Fuse,
    #[default]
    Wire,
    Connection,
    Switch,
    Coil,
    Contact,
    HighDriver,
    LowDriver,
    Lamp,
    Motor,
    Diode,
    Thermistor,
    Supply,
    Draw,
    PickUp,
    Resistor,
    ModuleLoad,
}

impl Kind {
    pub const fn joins(self) -> bool {
        matches!(self, Self::Wire | Self::Connection)
    }
}

/// One part.
#[derive(Debug, Clone, Default)]
pub struct Part {
    pub id: String,
    pub kind: Kind,
    /// Points; of a driver supply, output, ground.
    pub ends: Vec<usize>,
    /// In the circuit only in some states.
    pub conditional: bool,
    /// In the circuit as long as nobody changes anything.
    pub usual: bool,
    /// Prior odds of all its faults.
    pub odds: f64,
    /// The coil that moves this contact.
    pub coil: Option<usize>,
    /// Points that it looks at.
    pub needs: Vec<usize>,
}

impl Part {
    pub fn touches(&self, point: usize) -> bool {
        self.ends.contains(&point)
    }

    pub fn same_ends(&self, other: &Self) -> bool {
        self.ends.iter().all(|end| other.touches(*end))
    }
}

/// One point.
#[derive(Debug, Clone, Default)]
pub struct Spot {
    pub id: String,
    pub reachable: bool,
    /// Place in the file's own drawing, rightwards: decides ties.
    pub x: f64,
    /// Between 0 (negative post) and 1 (positive post).
    pub potential: f64,
    /// Parts that touch it, without the battery.
    pub parts: Vec<usize>,
}

/// The circuit by numbers.
#[derive(Debug, Clone, Default)]
pub struct Net {
    pub points: Table<Spot>,
    pub parts: Table<Part>,
    pub point_of: BTreeMap<String, usize>,
    pub part_of: BTreeMap<String, usize>,
    pub battery: usize,
    pub plus: usize,
    pub minus: usize,
}

impl Net {
    /// Nothing without a battery: there is no up and down then.
    pub fn of(circuit: &Circuit) -> Option<Self> {
        let mut net = Self::default();
        for point in &circuit.points {
            let spot =
                Spot { id: point.id.clone(), reachable: point.reachable, x: point.x, ..Spot::default() };
            let place = net.points.push(spot);
            net.point_of.insert(point.id.clone(), place);
        }
        for (place, part) in circuit.components.iter().enumerate() {
            net.part_of.insert(part.id.clone(), place);
        }
        for part in &circuit.components {
            let part = net.part(part, circuit)?;
            net.parts.push(part);
        }
        net.battery = net.parts.iter().position(|part| part.kind == Kind::Battery)?;
        let (plus, minus) = match net.parts[net.battery].ends.as_slice() {
            [plus, minus] => (*plus, *minus),
            _ => return None,
        };
        (net.plus, net.minus) = (plus, minus);
        for place in net.parts.places() {
            if net.parts[place].kind != Kind::Battery {
                for end in net.parts[place].ends.clone() {
                    net.points[end].parts.push(place);
                }
            }
        }
        net.settle();
        Some(net)
    }

    fn part(&self, part: &Component, circuit: &Circuit) -> Option<Part> {
        let known = |id: &String| self.point_of.get(id).copied();
        let (kind, ends) = kind_and_ends(&part.kind);
        let coil = match &part.kind {
            ComponentKind::Contact { coil, .. } => self.part_of.get(coil).copied(),
            _ => None,
        };
        let needs = match &part.kind {
            ComponentKind::RegulatedSupply { needs, .. }
            | ComponentKind::HighSideDriver { needs, .. }
            | ComponentKind::LowSideDriver { needs, .. } => {
                needs.iter().filter_map(|need| known(&need.red)).collect()
            }
            _ => Vec::new(),
        };
        let usual = part.present_when.iter().all(|(variable, values)| {
            let of = circuit.variables.iter().find(|known| known.id == *variable);
            of.is_some_and(|variable| values.contains(&variable.default))
        });
        Some(Part {
            id: part.id.clone(),
            kind,
            ends: ends.into_iter().map(known).collect::<Option<_>>()?,
            conditional: !part.present_when.is_empty(),
            usual,
            odds: part.faults.iter().map(|fault| fault.odds).sum(),
            coil,
            needs,
        })
    }

    /// Every part one unit of conductance, the battery 1 and 0: says which end of a part is up without solving any state.
    fn settle(&mut self) {
        let mut edges = Vec::new();
        // Test leads and spare parts would pull up what they are only sometimes put on.
        for part in self.parts.iter().filter(|part| part.usual || part.odds > 0.0) {
            match (part.kind, part.ends.as_slice()) {
                (Kind::Battery, _) => {}
                (Kind::HighDriver, [supply, output, _]) => edges.push((*supply, *output)),
                (Kind::LowDriver, [_, output, ground]) => edges.push((*output, *ground)),
                (Kind::Supply, [output, _]) => edges.extend(part.needs.iter().map(|need| (*need, *output))),
                (_, [from, to, ..]) => edges.push((*from, *to)),
                _ => {}
            }
        }
        let mut beside: Table<Vec<usize>> = Table::filled(&Vec::new(), self.points.len());
        for (one, other) in edges {
            beside[one].push(other);
            beside[other].push(one);
        }
        for place in self.points.places() {
            self.points[place].potential = 0.5;
        }
        let (plus, minus) = (self.plus, self.minus);
        self.points[plus].potential = 1.0;
        self.points[minus].potential = 0.0;
        for _ in 0..ROUNDS {
            for place in self.points.places() {
                let near = &beside[place];
                if place != plus && place != minus && !near.is_empty() {
                    let sum: f64 = near.iter().map(|other| self.points[*other].potential).sum();
                    self.points[place].potential = sum / near.len() as f64;
                }
            }
        }
    }

    pub fn other_end(&self, part: usize, point: usize) -> usize {
        let ends = &self.parts[part].ends;
        ends.iter().copied().find(|end| *end != point).unwrap_or(point)
    }

    pub fn potential(&self, point: usize) -> f64 {
        self.points[point].potential
    }
}

fn kind_and_ends(kind: &ComponentKind) -> (Kind, Vec<&String>) {
    match kind {
        ComponentKind::Battery { positive, negative, .. } => (Kind::Battery, vec![positive, negative]),
        ComponentKind::Fuse { from, to, .. } => (Kind::Fuse, vec![from, to]),
        ComponentKind::Wire { from, to, .. } => (Kind::Wire, vec![from, to]),
        ComponentKind::Connection { from, to, .. } => (Kind::Connection, vec![from, to]),
        ComponentKind::Switch { from, to, .. } => (Kind::Switch, vec![from, to]),
        ComponentKind::Coil { from, to, .. } => (Kind::Coil, vec![from, to]),
        ComponentKind::Contact { from, to, .. } => (Kind::Contact, vec![from, to]),
        ComponentKind::HighSideDriver { supply, output, ground, .. } => {
            (Kind::HighDriver, vec![supply, output, ground])
        }
        ComponentKind::LowSideDriver { supply, output, ground, .. } => {
            (Kind::LowDriver, vec![supply, output, ground])
        }
        ComponentKind::Lamp { from, to, .. } => (Kind::Lamp, vec![from, to]),
        ComponentKind::Motor { from, to, .. } => (Kind::Motor, vec![from, to]),
        ComponentKind::Diode { from, to, .. } => (Kind::Diode, vec![from, to]),
        ComponentKind::Thermistor { from, to, .. } => (Kind::Thermistor, vec![from, to]),
        ComponentKind::RegulatedSupply { output, ground, .. } => (Kind::Supply, vec![output, ground]),
        ComponentKind::CurrentDraw { from, to, .. } => (Kind::Draw, vec![from, to]),
        ComponentKind::PickUp { from, to, .. } => (Kind::PickUp, vec![from, to]),
        ComponentKind::Resistor { from, to, .. } => (Kind::Resistor, vec![from, to]),
        ComponentKind::SupplyLoad { from, to, .. } => (Kind::ModuleLoad, vec![from, to]),
    }
}
