//! One vehicle: the circuit's parts with the scatter of real ones, and what has been done to them.

use std::collections::BTreeMap;

use circuit::{Circuit, ComponentKind, Conditions, State};

use super::dice::Dice;
use super::harm::{Edit, Harm};

/// One part of one vehicle.
#[derive(Debug, Clone, PartialEq)]
pub struct Part {
    pub id: String,
    pub kind: ComponentKind,
    pub when: Conditions,
    pub harm: Harm,
    /// A fuse's: how many times its rating it stands.
    pub blows_at: f64,
    /// A fuse's: the new one for its place.
    pub spare: Option<Spare>,
}

/// A new fuse, of the rating that the drawing asks for.
#[derive(Debug, Clone, Copy, PartialEq)]
pub struct Spare {
    pub ohms: f64,
    pub rating_amps: f64,
    pub blows_at: f64,
}

impl Spare {
    const fn of(kind: &ComponentKind) -> Option<Self> {
        match kind {
            ComponentKind::Fuse { ohms, rating_amps, .. } => {
                Some(Self { ohms: *ohms, rating_amps: *rating_amps, blows_at: 2.0 })
            }
            _ => None,
        }
    }
}

impl Part {
    /// Does a state put a new fuse in its place?
    pub fn is_renewed(&self, state: &State) -> bool {
        match &self.kind {
            ComponentKind::Fuse { renewed_when, .. } => holds_for_once(renewed_when, state),
            _ => false,
        }
    }
}

/// Does the state satisfy conditions that mean "never" when there are none?
pub fn holds_for_once(conditions: &Conditions, state: &State) -> bool {
    !conditions.is_empty() && holds(conditions, state)
}

/// A path that no diagram shows.
#[derive(Debug, Clone, PartialEq)]
pub struct Path {
    pub from: String,
    pub to: String,
    pub ohms: f64,
    pub when: Conditions,
}

/// One vehicle.
#[derive(Debug, Clone, PartialEq)]
pub struct Vehicle {
    pub reference: String,
    pub points: Vec<String>,
    pub parts: Vec<Part>,
    pub paths: Vec<Path>,
    /// Variables' defaults.
    pub defaults: State,
    /// Substitute loads' resistances as the shop's own have them.
    pub loads: BTreeMap<String, (String, String, f64, Option<f64>)>,
    /// Tests in which the scan tool says the opposite.
    pub lies: Vec<String>,
}

/// Does the state satisfy every condition?
pub fn holds(conditions: &Conditions, state: &State) -> bool {
    conditions
        .iter()
        .all(|(variable, values)| state.get(variable).is_some_and(|value| values.contains(value)))
}

impl Vehicle {
    /// The vehicle of the drawing, without scatter.
    pub fn as_drawn(circuit: &Circuit) -> Self {
        let parts = circuit.components.iter().map(|component| Part {
            id: component.id.clone(),
            kind: component.kind.clone(),
            when: component.present_when.clone(),
            harm: Harm::default(),
            blows_at: 2.0,
            spare: Spare::of(&component.kind),
        });
        let load = |load: &circuit::SubstituteLoad| {
            (load.id.clone(), (load.from.clone(), load.to.clone(), load.ohms, load.cold_ohms))
        };
        Self {
            reference: circuit.reference.clone(),
            points: circuit.points.iter().map(|point| point.id.clone()).collect(),
            parts: parts.collect(),
            paths: Vec::new(),
            defaults: circuit.variables.iter().map(|one| (one.id.clone(), one.default.clone())).collect(),
            loads: circuit.loads.iter().map(load).collect(),
            lies: Vec::new(),
        }
    }

    /// A vehicle as it comes in, healthy.
    pub fn healthy(circuit: &Circuit, dice: &mut Dice) -> Self {
        let mut vehicle = Self::as_drawn(circuit);
        for (part, component) in vehicle.parts.iter_mut().zip(&circuit.components) {
            scatter(&mut part.kind, component.tolerance_percent / 100.0, dice);
            part.blows_at = dice.between(1.7, 2.3);
            if let Some(spare) = &mut part.spare {
                spare.ohms *= dice.between(0.85, 1.2);
                spare.blows_at = dice.between(1.7, 2.3);
            }
        }
        for load in &circuit.loads {
            if let Some((_, _, ohms, _)) = vehicle.loads.get_mut(&load.id) {
                *ohms *= 1.0 + load.tolerance_percent / 100.0 * dice.between(-1.0, 1.0);
            }
        }
        vehicle
    }

    pub fn part(&self, id: &str) -> Option<&Part> {
        self.parts.iter().find(|part| part.id == id)
    }

    fn harm(&mut self, id: &str) -> Option<&mut Harm> {
        self.parts.iter_mut().find(|part| part.id == id).map(|part| &mut part.harm)
    }

    /// The state with the defaults of the variables left out.
    pub fn full_state(&self, state: &State) -> State {
        let mut full = self.defaults.clone();
        full.extend(state.iter().map(|(name, value)| (name.clone(), value.clone())));
        full
    }

    /// This vehicle with these things done to it.
    pub fn with<'a>(&self, edits: impl IntoIterator<Item = &'a Edit>) -> Self {
        let mut changed = self.clone();
        for edit in edits {
            changed.apply(edit);
        }
        changed
    }

    fn apply(&mut self, edit: &Edit) {
        match edit {
            Edit::Path { from, to, ohms, when } => {
                self.paths.push(Path { from: from.clone(), to: to.clone(), ohms: *ohms, when: when.clone() });
            }
            Edit::Fitted { part, kind } => {
                if let Some(part) = self.parts.iter_mut().find(|one| one.id == *part) {
                    part.kind = (**kind).clone();
                }
            }
            Edit::Swapped { parts, first, second } => self.move_ends(parts, first, second, true),
            Edit::Split { point, parts, name, ohms } => {
                self.points.push(name.clone());
                self.move_ends(parts, point, name, false);
                if let Some(ohms) = ohms {
                    self.apply(&Edit::path(point, name, *ohms));
                }
            }
            Edit::Lie(tests) => self.lies.extend(tests.iter().cloned()),
            _ => self.hurt(edit),
        }
    }

    fn hurt(&mut self, edit: &Edit) {
        let (Edit::Series { part, .. }
        | Edit::Growing { part, .. }
        | Edit::Open(part)
        | Edit::Across { part, .. }
        | Edit::Stuck { part, .. }
        | Edit::Dead(part)
        | Edit::NotCommanded(part)
        | Edit::Unresponsive(part)
        | Edit::Leaks { part, .. }
        | Edit::AlwaysOn(part)
        | Edit::Latches(part)
        | Edit::Jammed(part)
        | Edit::Useless(part)
        | Edit::Weak { part, .. }
        | Edit::Draws { part, .. }
        | Edit::Volts { part, .. }
        | Edit::Duty { part, .. }) = edit
        else {
            return;
        };
        let Some(harm) = self.harm(part) else { return };
        match edit {
            Edit::Series { ohms, .. } => harm.series_ohms += ohms,
            Edit::Growing { ohms, amps, .. } => {
                harm.series_ohms += ohms;
                harm.growth_amps = Some(*amps);
            }
            Edit::Open(_) => harm.open = true,
            Edit::Across { ohms, .. } => harm.across_ohms = Some(*ohms),
            Edit::Stuck { closed, .. } => harm.stuck_closed = Some(*closed),
            Edit::Dead(_) => harm.dead = true,
            Edit::NotCommanded(_) => harm.not_commanded = true,
            Edit::Unresponsive(_) => harm.unresponsive = true,
            Edit::Leaks { ohms, .. } => harm.leak_ohms = Some(*ohms),
            Edit::AlwaysOn(_) => harm.always_on = true,
            Edit::Latches(_) => harm.latches = true,
            Edit::Jammed(_) => harm.jammed = true,
            Edit::Useless(_) => harm.useless = true,
            Edit::Weak { ohms, .. } => harm.weak_ohms += ohms,
            Edit::Draws { factor, .. } => harm.draw_factor *= factor,
            Edit::Volts { volts, .. } => harm.volts = Some(*volts),
            Edit::Duty { factor, .. } => harm.duty_factor *= factor,
            Edit::Path { .. }
            | Edit::Fitted { .. }
            | Edit::Swapped { .. }
            | Edit::Split { .. }
            | Edit::Lie(_) => {}
        }
    }

    fn move_ends(&mut self, parts: &[String], from: &str, to: &str, both_ways: bool) {
        for part in self.parts.iter_mut().filter(|part| parts.contains(&part.id)) {
            for end in super::emit::ends_mut(&mut part.kind) {
                if end == from {
                    to.clone_into(end);
                } else if both_ways && end == to {
                    from.clone_into(end);
                }
            }
        }
    }
}

/// Scatter of healthy parts, wider than the files' tolerances where real ones are: pull-ups, contacts, lamps, wires.
fn scatter(kind: &mut ComponentKind, tolerance: f64, dice: &mut Dice) {
    // Flat within the tolerance: makers sort out what lies beyond it.
    let mut flat = |value: &mut f64, wider: f64| *value *= 1.0 + tolerance * wider * dice.between(-1.0, 1.0);
    match kind {
        ComponentKind::Coil { ohms, .. }
        | ComponentKind::Motor { ohms, .. }
        | ComponentKind::PickUp { ohms, .. }
        | ComponentKind::Resistor { ohms, .. }
        | ComponentKind::Thermistor { ohms_25: ohms, .. } => flat(ohms, 1.0),
        ComponentKind::Lamp { ohms, .. } | ComponentKind::SupplyLoad { ohms, .. } => flat(ohms, 1.3),
        ComponentKind::CurrentDraw { amps, .. } => flat(amps, 1.2),
        ComponentKind::RegulatedSupply { volts, .. } => flat(volts, 1.0),
        ComponentKind::Battery { volts, volts_spread, internal_ohms, volts_when, .. } => {
            // A battery that stood for a week next to one that was just driven.
            let off = dice.normal().clamp(-1.8, 2.2) * *volts_spread;
            *volts += off;
            volts_when.iter_mut().for_each(|when| when.volts += off / 2.0);
            *internal_ohms *= dice.factor(0.2);
        }
        ComponentKind::Wire { length_m, .. } => *length_m *= dice.factor(0.15),
        ComponentKind::Fuse { ohms, .. } => *ohms *= dice.between(0.85, 1.2),
        ComponentKind::Connection { ohms, .. }
        | ComponentKind::Contact { ohms, .. }
        | ComponentKind::Switch { closed_ohms: ohms, .. } => *ohms *= dice.factor(0.25),
        ComponentKind::HighSideDriver {
            on_ohms, limit_amps, off_pull_up_ohms, off_pull_down_ohms, ..
        }
        | ComponentKind::LowSideDriver {
            on_ohms, limit_amps, off_pull_up_ohms, off_pull_down_ohms, ..
        } => {
            *on_ohms *= dice.factor(0.2);
            *limit_amps *= dice.between(0.85, 1.4);
            for bias in [off_pull_up_ohms, off_pull_down_ohms].into_iter().flatten() {
                *bias *= dice.factor(0.35);
            }
        }
        ComponentKind::Diode { drop_volts, .. } => *drop_volts *= dice.between(0.92, 1.06),
    }
}
