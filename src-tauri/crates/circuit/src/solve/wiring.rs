//! A circuit with its names turned into numbers once, so that thousands of solves need no look-up.

use std::collections::BTreeMap;

use crate::error::CircuitError;
use crate::file::anatomy::holds;
use crate::file::component::ComponentKind;
use crate::file::fault::{Fault, FaultMode};
use crate::file::layout::Circuit;
use crate::file::meter::Meter;
use crate::file::observation::{MeasureMode, State};
use crate::file::winding::has_winding;
use crate::solve::at_hand::AtHand;
use crate::solve::bend::{Bend, Line};
use crate::solve::element::Element;
use crate::solve::part::{Failing, Moment, Own, Part, Position, SPREAD};

/// What counts as open, ohm.
const MOST_OHMS: f64 = 1e9;
/// What a regulated supply's own divider draws, at rest or not, ohm (judgment).
pub(crate) const RESTING_OHMS: f64 = 20e3;

/// Circuit with numbered points.
#[derive(Debug)]
pub(crate) struct Wiring<'a> {
    pub circuit: &'a Circuit,
    points: BTreeMap<&'a str, usize>,
    pub parts: Vec<Part<'a>>,
    pub nodes: usize,
    feed: usize,
}

/// Gives the parts with the widest tolerances their places. What only loads the supply hardly moves a reading.
fn name_loosest(parts: &mut [Part<'_>]) {
    let mut loose: Vec<(bool, f64, usize)> = Vec::new();
    for (i, part) in parts.iter().enumerate().filter(|(_, part)| part.component.tolerance_percent > 0.0) {
        let on_supply = matches!(part.component.kind, ComponentKind::SupplyLoad { .. });
        loose.push((on_supply, -part.component.tolerance_percent, i));
    }
    loose.sort_by(|left, right| {
        left.0.cmp(&right.0).then(left.1.total_cmp(&right.1)).then(left.2.cmp(&right.2))
    });
    for (place, (_, _, i)) in loose.into_iter().take(SPREAD).enumerate() {
        if let Some(part) = parts.get_mut(i) {
            part.spread = Some(place);
        }
    }
}

/// What one state means for each part, looked up once per state.
#[derive(Debug, Clone)]
pub(crate) struct Setting {
    pub state: State,
    pub present: Vec<bool>,
    /// Switch closed, or driver commanded.
    pub asked: Vec<bool>,
    /// Driver commanded by a scan tool, or fuse new.
    pub forced: Vec<bool>,
    /// Battery volts in this state.
    pub volts: Vec<f64>,
    /// Loads and meters put in.
    pub added: Vec<Added>,
    pub moment: Moment,
    /// Netlists of this state that are factored already.
    pub at_hand: AtHand,
}

/// A resistance put into the circuit for a test.
#[derive(Debug, Clone, Copy, PartialEq)]
pub(crate) struct Added {
    pub a: usize,
    pub b: usize,
    pub ohms: f64,
    pub tolerance_percent: f64,
    pub bend: Option<Bend>,
}

impl<'a> Wiring<'a> {
    /// Numbers the circuit's points and parts.
    ///
    /// # Errors
    /// A contact whose coil isn't a part of the circuit.
    pub fn of(circuit: &'a Circuit) -> Result<Self, CircuitError> {
        let mut points = BTreeMap::from([(circuit.reference.as_str(), 0)]);
        for point in &circuit.points {
            let next = points.len();
            points.entry(point.id.as_str()).or_insert(next);
        }
        let mut nodes = points.len();
        let mut feed = 0;
        let mut parts = Vec::with_capacity(circuit.components.len());
        for component in &circuit.components {
            let mut ends = component.kind.points().into_iter();
            let mut number = || ends.next().and_then(|point| points.get(point)).copied().unwrap_or(0);
            let (a, b, c) = (number(), number(), number());
            let link = match &component.kind {
                ComponentKind::Battery { .. } => {
                    feed = if feed == 0 { a } else { feed };
                    nodes += 1;
                    nodes - 1
                }
                ComponentKind::Contact { coil, .. } => part_number(circuit, coil)?,
                ComponentKind::LowSideDriver { freewheel, .. } => {
                    freewheel.as_ref().and_then(|point| points.get(point.as_str())).copied().unwrap_or(c)
                }
                _ => 0,
            };
            let ohms = component.kind.healthy_ohms().unwrap_or(0.0);
            let bend = Bend::of(&component.kind);
            let winds = match &component.kind {
                ComponentKind::HighSideDriver { output, duty: Some(_), .. }
                | ComponentKind::LowSideDriver { output, duty: Some(_), .. } => has_winding(circuit, output),
                _ => false,
            };
            parts.push(Part { component, a, b, c, link, ohms, bend, winds, spread: None });
        }
        name_loosest(&mut parts);
        Ok(Self { circuit, points, parts, nodes, feed })
    }

    /// Number of a point.
    ///
    /// # Errors
    /// No such point.
    pub fn point(&self, id: &str) -> Result<usize, CircuitError> {
        let unknown = || CircuitError::Unknown { kind: "point", id: id.to_owned() };
        self.points.get(id).copied().ok_or_else(unknown)
    }

    pub fn point_names(&self) -> impl Iterator<Item = (&'a str, usize)> + '_ {
        self.points.iter().map(|(name, number)| (*name, *number))
    }

    /// A fault with its part and point as numbers.
    ///
    /// # Errors
    /// No such part, or no such point.
    pub fn failing(&self, fault: &Fault) -> Result<Failing, CircuitError> {
        let part = part_number(self.circuit, &fault.component)?;
        let first = self.parts.get(part).map_or(0, |part| part.a);
        let at = fault.at.as_deref().map_or(Ok(first), |at| self.point(at))?;
        Ok(Failing { part, mode: fault.mode, severity: fault.severity, at })
    }

    /// Fills in defaults and looks up what the state means.
    ///
    /// # Errors
    /// Unknown state variable, value, load, or point of a load.
    pub fn setting(&self, state: &State, load: Option<&str>) -> Result<Setting, CircuitError> {
        let state = full_state(self.circuit, state)?;
        let part = |part: &Part<'_>| match &part.component.kind {
            ComponentKind::Switch { closed_when, .. } => holds(closed_when, &state),
            ComponentKind::HighSideDriver { on_when, .. } | ComponentKind::LowSideDriver { on_when, .. } => {
                holds(on_when, &state)
            }
            ComponentKind::PickUp { turned_when, .. } => holds(turned_when, &state),
            _ => true,
        };
        let forced = |part: &Part<'_>| match &part.component.kind {
            ComponentKind::Fuse { renewed_when: when, .. }
            | ComponentKind::HighSideDriver { forced_when: when, .. }
            | ComponentKind::LowSideDriver { forced_when: when, .. } => {
                !when.is_empty() && holds(when, &state)
            }
            _ => false,
        };
        let volts = |part: &Part<'_>| match &part.component.kind {
            ComponentKind::Battery { volts, volts_when, .. } => {
                let special = volts_when.iter().find(|special| holds(&special.when, &state));
                special.map_or(*volts, |special| special.volts)
            }
            _ => 0.0,
        };
        let mut setting = Setting {
            present: self.parts.iter().map(|part| part.component.is_present(&state)).collect(),
            asked: self.parts.iter().map(part).collect(),
            forced: self.parts.iter().map(forced).collect(),
            volts: self.parts.iter().map(volts).collect(),
            added: Vec::new(),
            moment: Moment::Average,
            at_hand: AtHand::default(),
            state,
        };
        if let Some(id) = load {
            let load = self.circuit.loads.iter().find(|load| load.id == id);
            let load = load.ok_or_else(|| CircuitError::Unknown { kind: "load", id: id.to_owned() })?;
            let (a, b) = (self.point(&load.from)?, self.point(&load.to)?);
            let (ohms, tolerance_percent) = (load.ohms, load.tolerance_percent);
            setting.added.push(Added { a, b, ohms, tolerance_percent, bend: Bend::of_load(load) });
        }
        Ok(setting)
    }

    /// Puts a meter in. Its volts input is left to [`crate::predict::reading`]; an ampere meter takes the place of what joins
    /// its points.
    pub fn put_meter(&self, setting: &mut Setting, mode: MeasureMode, a: usize, b: usize, meter: &Meter) {
        let ohms = match mode {
            MeasureMode::VoltsLowImpedance => meter.low_impedance_ohms,
            MeasureMode::Amps => Some(meter.amps_input_ohms),
            _ => None,
        };
        setting.added.extend(ohms.map(|ohms| Added { a, b, ohms, tolerance_percent: 0.0, bend: None }));
        for (part, present) in self.parts.iter().zip(&mut setting.present) {
            let opened = mode == MeasureMode::Amps && part.joins(a, b) && part.can_be_opened();
            *present = *present && !opened;
        }
    }

    /// Positions in which everything is at rest: one for each part, then one for each load put in.
    pub fn at_rest(&self, setting: &Setting) -> Vec<Position> {
        vec![Position::Rest; self.parts.len() + setting.added.len()]
    }

    /// Elements of the whole circuit with its parts in these positions.
    pub fn elements(&self, setting: &Setting, faults: &[Failing], positions: &[Position]) -> Vec<Element> {
        let mut elements = Vec::with_capacity(self.parts.len() + 8);
        for (i, part) in self.parts.iter().enumerate() {
            let present = setting.present.get(i).copied().unwrap_or(false);
            let position = positions.get(i).copied().unwrap_or(Position::Rest);
            let own = Own { faults, part: i };
            if present {
                self.stamp(part, own, i, setting, positions, position, &mut elements);
            }
        }
        let shorts = faults.iter().filter_map(|fault| match fault.mode {
            FaultMode::ShortToGround => Some((fault.at, 0, fault.severity)),
            FaultMode::ShortToFeed => Some((fault.at, self.feed, fault.severity)),
            FaultMode::ShortAcross if setting.present.get(fault.part) == Some(&true) => {
                self.parts.get(fault.part).map(|part| (part.a, part.b, fault.severity))
            }
            _ => None,
        });
        for (a, b, ohms) in shorts.filter(|(a, b, _)| a != b) {
            elements.push(Element::Resistor { a, b, ohms });
        }
        let put_in = setting.added.iter().zip(positions.get(self.parts.len()..).unwrap_or_default());
        for (added, position) in put_in.filter(|(added, _)| added.a != added.b) {
            let straight = Line { ohms: added.ohms, amps: 0.0 };
            draw(
                added.a,
                added.b,
                added.bend.map_or(straight, |bend| bend.line(position.side(), 0.0)),
                &mut elements,
            );
        }
        elements
    }

    #[allow(
        clippy::too_many_arguments,
        reason = "one part in its surroundings; a struct would only rename them"
    )]
    fn stamp(
        &self,
        part: &Part<'_>,
        own: Own<'_>,
        i: usize,
        setting: &Setting,
        positions: &[Position],
        position: Position,
        elements: &mut Vec<Element>,
    ) {
        let mut resistor = |a, b, ohms| elements.push(Element::Resistor { a, b, ohms });
        match &part.component.kind {
            ComponentKind::Battery { internal_ohms, .. } => {
                let healthy = setting.volts.get(i).copied().unwrap_or(0.0);
                let volts = own.severity(FaultMode::LowVoltage).unwrap_or(healthy);
                resistor(part.a, part.link, internal_ohms + own.added_ohms());
                elements.push(Element::Volts { plus: part.link, minus: part.b, volts });
            }
            ComponentKind::HighSideDriver { off_pull_up_ohms, off_pull_down_ohms, limit_amps, .. }
            | ComponentKind::LowSideDriver { off_pull_up_ohms, off_pull_down_ohms, limit_amps, .. } => {
                let (from, to, supply, output, ground) = part.driver_nodes();
                match position {
                    Position::Working | Position::Freewheeling
                        if part.pulses(own, setting.moment).is_some() =>
                    {
                        elements.extend(part.pulsed(own, setting.moment, position));
                    }
                    Position::Working | Position::Freewheeling => {
                        resistor(from, to, part.driver_ohms() + own.added_ohms())
                    }
                    Position::Limited => elements.push(Element::Amps { from, to, amps: *limit_amps }),
                    _ if own.has(FaultMode::Dead) => {}
                    _ if own.has(FaultMode::Leaks) => {
                        resistor(from, to, own.severity(FaultMode::Leaks).unwrap_or(MOST_OHMS));
                    }
                    _ => {
                        off_pull_up_ohms.iter().for_each(|ohms| resistor(supply, output, *ohms));
                        off_pull_down_ohms.iter().for_each(|ohms| resistor(output, ground, *ohms));
                    }
                }
            }
            ComponentKind::RegulatedSupply { limit_amps, .. } => {
                resistor(part.a, part.b, RESTING_OHMS);
                let (volts, ohms) = part.regulated(own);
                let (from, to) = (part.b, part.a);
                match position {
                    Position::Working => {
                        resistor(part.a, part.b, ohms);
                        elements.push(Element::Amps { from, to, amps: volts / ohms });
                    }
                    Position::Limited => elements.push(Element::Amps { from, to, amps: *limit_amps }),
                    _ => {}
                }
            }
            _ if own.has(FaultMode::Open) || position == Position::Blown => {}
            ComponentKind::Switch { .. } if !own.closed(setting.asked.get(i) == Some(&true)) => {}
            ComponentKind::Contact { closed_at_rest, .. }
                if !own.closed((positions.get(part.link) == Some(&Position::Working)) != *closed_at_rest) => {
            }
            _ => draw(part.a, part.b, part.line(own, position), elements),
        }
    }
}

/// A resistance and the current beside it.
fn draw(a: usize, b: usize, line: Line, elements: &mut Vec<Element>) {
    elements.push(Element::Resistor { a, b, ohms: line.ohms });
    if line.amps != 0.0 {
        elements.push(Element::Amps { from: a, to: b, amps: line.amps });
    }
}

fn part_number(circuit: &Circuit, id: &str) -> Result<usize, CircuitError> {
    let unknown = || CircuitError::Unknown { kind: "component", id: id.to_owned() };
    circuit.components.iter().position(|part| part.id == id).ok_or_else(unknown)
}

/// The state with defaults filled in.
///
/// # Errors
/// Unknown state variable or value.
pub(crate) fn full_state(circuit: &Circuit, state: &State) -> Result<State, CircuitError> {
    let mut full = State::new();
    for variable in &circuit.variables {
        let value = state.get(&variable.id).unwrap_or(&variable.default);
        if !variable.values.iter().any(|known| known.id == *value) {
            return Err(CircuitError::Unknown { kind: "state", id: format!("{} = {value}", variable.id) });
        }
        full.insert(variable.id.clone(), value.clone());
    }
    match state.keys().find(|name| !full.contains_key(*name)) {
        Some(name) => Err(CircuitError::Unknown { kind: "state variable", id: name.clone() }),
        None => Ok(full),
    }
}
