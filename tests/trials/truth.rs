//! Hidden truths that the engine doesn't share: other priors, other spreads of parts, other severities, two faults at
//! once, faults that come and go, and faults the circuit doesn't contain.

use std::sync::Arc;

use circuit::{Circuit, Fault, FaultSpec};
use serde_json::Value;

use crate::Failure;
use crate::random::Random;
use crate::separable::cause_id;
use crate::vehicle::Vehicle;

/// Parts scatter this much more than the circuit file says.
const WIDER: f64 = 1.5;
/// Scatter of what the file gives no tolerance for, one standard deviation.
const LOOSE: f64 = 0.05;
/// Scatter of a driver's off-state resistances, of their logarithm.
const BIASES: f64 = 0.5;
/// A shop's own frequencies are drawn as if the file's odds came from so many jobs (Dirichlet).
const JOBS_BEHIND_ODDS: f64 = 30.0;
const UNMODELLED: f64 = 0.05;
const PAIRS: f64 = 0.05;
const COMES_AND_GOES: f64 = 0.10;

/// What is wrong with one vehicle.
#[derive(Debug, Clone)]
pub struct Truth {
    pub faulty: Vehicle,
    /// The same vehicle while the fault isn't there.
    pub healthy: Vehicle,
    /// Cause ids; empty when it lies outside the circuit.
    pub causes: Vec<String>,
    pub comes_and_goes: bool,
}

/// Where a job's fault is drawn from.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
pub enum Drawn {
    /// As a shop meets them.
    Usual,
    /// Inside one of the circuit's modules.
    InModule,
    /// Outside the circuit.
    Outside,
    /// Two faults of the file at once.
    Pair,
}

/// One shop: how often each cause comes to it, and how bad it is then.
pub struct Shop<'c> {
    circuit: &'c Circuit,
    specs: Vec<(String, FaultSpec)>,
    weights: Vec<f64>,
    /// Exponent on the share of the severities' range: below 1 worse, above 1 milder than the engine thinks.
    tilt: f64,
}

impl<'c> Shop<'c> {
    pub fn new(circuit: &'c Circuit, random: &mut Random) -> Self {
        let specs: Vec<(String, FaultSpec)> = circuit
            .components
            .iter()
            .flat_map(|part| part.faults.iter().map(|fault| (part.id.clone(), fault.clone())))
            .collect();
        let odds: f64 = specs.iter().map(|(_, spec)| spec.odds).sum();
        let weights =
            specs.iter().map(|(_, spec)| random.gamma(spec.odds / odds * JOBS_BEHIND_ODDS)).collect();
        Self { circuit, specs, weights, tilt: random.between(0.6, 1.6) }
    }

    /// A vehicle whose complaint shows.
    pub fn vehicle(&self, drawn: Drawn, random: &mut Random) -> Result<Option<Truth>, Failure> {
        let module = drawn == Drawn::InModule;
        let pair = drawn == Drawn::Pair;
        let unmodelled = drawn == Drawn::Outside || (!module && !pair && random.chance(UNMODELLED));
        for _ in 0..200 {
            let Some(truth) = self.drawn(module, unmodelled, pair, random)? else { continue };
            if truth.faulty.complains().unwrap_or(false) && !truth.healthy.complains().unwrap_or(true) {
                return Ok(Some(truth));
            }
        }
        Ok(None)
    }

    fn drawn(
        &self,
        module: bool,
        unmodelled: bool,
        pair: bool,
        random: &mut Random,
    ) -> Result<Option<Truth>, Failure> {
        let circuit = scattered(self.circuit, random)?;
        let healthy = Vehicle::healthy(&circuit);
        if unmodelled {
            let faulty = outside(&healthy, random);
            return Ok(Some(Truth { faulty, healthy, causes: Vec::new(), comes_and_goes: false }));
        }
        let first = self.cause(module, random);
        let Some(first) = first else { return Ok(None) };
        let second = if pair || random.chance(PAIRS) { self.cause(false, random) } else { None };
        let second = second.filter(|second| self.specs[*second].0 != self.specs[first].0);
        if pair && second.is_none() {
            return Ok(None);
        }
        let places: Vec<usize> = [Some(first), second].into_iter().flatten().collect();
        let faults = places.iter().map(|place| self.fault(*place, random)).collect();
        let causes: Vec<String> = places.iter().map(|place| self.id(*place)).collect();
        let comes_and_goes = places.len() == 1 && random.chance(COMES_AND_GOES);
        let faulty = Vehicle { faults, ..healthy.clone() };
        Ok(Some(Truth { faulty, healthy, causes, comes_and_goes }))
    }

    fn cause(&self, module: bool, random: &mut Random) -> Option<usize> {
        let inside = |part: &str, spec: &FaultSpec| at_fault(self.circuit, part, spec.mode);
        let weights: Vec<f64> = self
            .specs
            .iter()
            .zip(&self.weights)
            .map(|((part, spec), weight)| if !module || inside(part, spec) { *weight } else { 0.0 })
            .collect();
        (weights.iter().sum::<f64>() > 0.0).then(|| random.weighted(&weights))
    }

    fn fault(&self, place: usize, random: &mut Random) -> Fault {
        let (component, spec) = &self.specs[place];
        let share = random.share().powf(self.tilt);
        let severity = match (spec.min, spec.max) {
            (Some(min), Some(max)) if spec.mode == circuit::FaultMode::LowVoltage => {
                min + (max - min) * share
            }
            (Some(min), Some(max)) => min * (max / min).powf(share),
            _ => 0.0,
        };
        Fault { component: component.clone(), mode: spec.mode, severity, at: spec.at.clone() }
    }

    fn id(&self, place: usize) -> String {
        let (component, spec) = &self.specs[place];
        cause_id(component, spec.mode)
    }
}

/// Does this fault make a module the cause? One that only withholds its output is good.
pub fn at_fault(circuit: &Circuit, part: &str, mode: circuit::FaultMode) -> bool {
    let refuses = |module: &circuit::Module| {
        mode == circuit::FaultMode::NotCommanded
            && module.evidence.iter().any(|need| need.code == circuit::EvidenceCode::Conditions)
    };
    let holds = |module: &circuit::Module| module.components.iter().any(|component| component == part);
    circuit.modules.iter().any(|module| holds(module) && !refuses(module))
}

/// The circuit with parts of its own: every number of every part off by its tolerance, and more.
fn scattered(circuit: &Circuit, random: &mut Random) -> Result<Circuit, Failure> {
    let mut value = serde_json::to_value(circuit)?;
    for part in value["components"].as_array_mut().into_iter().flatten() {
        let tolerance = part["tolerance_percent"].as_f64().unwrap_or(0.0) / 100.0 / 1.96;
        for (kind, fields) in part["kind"].as_object_mut().into_iter().flatten() {
            let spread_volts = fields["volts_spread"].as_f64().unwrap_or(0.0);
            for (name, field) in fields.as_object_mut().into_iter().flatten() {
                let Some(number) = field.as_f64() else { continue };
                *field = off(kind, name, number, tolerance, spread_volts, random).into();
            }
        }
    }
    Ok(serde_json::from_value(value)?)
}

fn off(kind: &str, name: &str, number: f64, tolerance: f64, spread: f64, random: &mut Random) -> f64 {
    let by = |spread: f64, random: &mut Random| number * (1.0 + (random.normal() * spread).clamp(-0.5, 0.5));
    match name {
        "volts" if kind == "battery" => number + random.normal() * spread * WIDER,
        "volts" | "ohms_25" | "amps" => by(tolerance * WIDER, random),
        "ohms" if tolerance > 0.0 => by(tolerance * WIDER, random),
        "ohms" | "internal_ohms" | "length_m" | "closed_ohms" | "on_ohms" | "cold_ohms" | "stalled_ohms" => {
            by(LOOSE, random)
        }
        "off_pull_up_ohms" | "off_pull_down_ohms" => number * (random.normal() * BIASES).exp(),
        "pull_in_volts" => number * random.between(0.9, 1.02),
        "drop_out_volts" => number * random.between(0.8, 1.05),
        _ => number,
    }
}

/// A fault the circuit doesn't contain: a path between two places, a load that isn't what it should be, or a part that
/// doesn't work though its circuit is right. Never inside a module.
fn outside(healthy: &Vehicle, random: &mut Random) -> Vehicle {
    let mut vehicle = healthy.clone();
    let circuit = Arc::make_mut(&mut vehicle.circuit);
    let reachable: Vec<String> =
        circuit.points.iter().filter(|point| point.reachable).map(|point| point.id.clone()).collect();
    match (random.share() * 3.0) as u32 {
        0 => {
            let ends = (random.pick(&reachable).cloned(), random.pick(&reachable).cloned());
            if let ((Some(from), Some(to)), Some(mut path)) = (ends, circuit.components.first().cloned()) {
                "path".clone_into(&mut path.id);
                path.kind =
                    circuit::ComponentKind::Connection { from, to, ohms: random.decades(0.05, 500.0) };
                path.present_when.clear();
                path.faults.clear();
                path.tolerance_percent = 0.0;
                circuit.components.push(path);
            }
        }
        1 => {
            let loads: Vec<usize> = (0..circuit.components.len())
                .filter(|i| {
                    let kind = &circuit.components[*i].kind;
                    // What no lead reaches lies inside a module.
                    let outside = |point: &&str| reachable.iter().any(|other| other == *point);
                    kind.load_ohms().is_some() && kind.points().iter().all(outside)
                })
                .collect();
            if let Some(place) = random.pick(&loads) {
                let part = &mut circuit.components[*place];
                let factor =
                    if random.chance(0.5) { random.decades(0.05, 0.7) } else { random.decades(1.5, 30.0) };
                part.kind = scaled(&part.kind, factor);
            }
        }
        _ => {
            let complaint = circuit.complaint.test.clone();
            let asked = circuit.tests.iter().find(|test| test.id == complaint);
            if let Some(circuit::Behavior::PartWorks { component, .. }) =
                asked.and_then(|test| test.question.as_ref()).map(|question| &question.behavior)
            {
                let part = circuit.components.iter().find(|part| part.id == *component);
                let jams = |fault: &FaultSpec| fault.mode == circuit::FaultMode::Jammed;
                if part.is_some_and(|part| !part.faults.iter().any(jams)) {
                    vehicle.dead_parts.push(component.clone());
                }
            }
        }
    }
    vehicle
}

fn scaled(kind: &circuit::ComponentKind, factor: f64) -> circuit::ComponentKind {
    let mut value = serde_json::to_value(kind).unwrap_or_default();
    for fields in value.as_object_mut().into_iter().flat_map(|kinds| kinds.values_mut()) {
        if let Some(ohms) = fields["ohms"].as_f64() {
            fields["ohms"] = Value::from(ohms * factor);
        }
    }
    serde_json::from_value(value).unwrap_or_else(|_| kind.clone())
}
