//! Whole searches by the technician of the trials: every module of the library can be proven, and a path that no circuit
//! contains, beside a wire or a load, is never taken for a bad module.

use circuit::{
    Circuit, ComponentKind, Engine, EvidenceCode, Fault, FaultMode, FaultSpec, Meter, Options, library,
};

use crate::random::Random;
use crate::technician::{Ended, Technician};
use crate::truth::Truth;
use crate::vehicle::Vehicle;
use crate::world::Bay;

const SEEDS: std::ops::Range<u64> = 0..4;

pub fn search(engine: &Engine<'_>, faulty: Vehicle, healthy: &Circuit, seed: u64) -> Ended {
    let truth =
        Truth { faulty, healthy: Vehicle::healthy(healthy), causes: Vec::new(), comes_and_goes: false };
    let technician = Technician::new(engine, Bay::new(&truth, &Meter::default(), Random::new(seed)));
    technician.search().unwrap().0.ended
}

pub fn engine(circuit: &Circuit) -> Engine<'_> {
    let options = Options { next_tests: 3, ..Options::default() };
    Engine::new(circuit, &Meter::default(), &options).unwrap()
}

/// In the middle of its range.
fn typical(component: &str, spec: &FaultSpec) -> Fault {
    let severity = match (spec.min, spec.max) {
        (Some(min), Some(max)) if spec.mode == FaultMode::LowVoltage => f64::midpoint(min, max),
        (Some(min), Some(max)) => (min * max).sqrt(),
        _ => 0.0,
    };
    Fault { component: component.to_owned(), mode: spec.mode, severity, at: spec.at.clone() }
}

#[test]
fn every_module_can_be_proven() {
    let mut modules = 0;
    for circuit in library::all().unwrap() {
        let engine = engine(&circuit);
        for module in &circuit.modules {
            modules += 1;
            let inside = circuit.components.iter().filter(|part| module.components.contains(&part.id));
            let faults = inside.flat_map(|part| part.faults.iter().map(|spec| typical(&part.id, spec)));
            let called = |fault: Fault| {
                let vehicle = Vehicle { faults: vec![fault], ..Vehicle::healthy(&circuit) };
                let shows = vehicle.complains().unwrap_or(false);
                shows
                    && SEEDS.into_iter().any(|seed| {
                        search(&engine, vehicle.clone(), &circuit, seed)
                            == Ended::ModuleCalled(module.id.clone())
                    })
            };
            assert!(faults.clone().any(called), "{}: {} is never called", circuit.id, module.id);
        }
    }
    assert!(modules >= 11, "{modules}");
}

/// Paths that read like the module's own fault at every pin while it is plugged in.
const PATHS: [(&str, &str, &str, f64); 9] = [
    ("relay_low_side", "mod_out", "s30", 0.2),
    ("relay_low_side", "c85", "feed", 0.4),
    ("fuel_pump", "mod_out", "bat_pos", 0.5),
    ("fuel_pump", "s85", "s30", 0.25),
    ("sensor_thermistor", "sen_gnd", "t_sig", 50.0),
    ("sensor_thermistor", "t_sig", "mod_ground", 0.3),
    ("parasitic_draw", "mod_ground", "mod_feed", 20.0),
    ("injector", "mod_out", "inj_feed", 0.2),
    ("sensor_three_wire", "sen_gnd", "sen_ref", 28.0),
];

pub fn with_path(circuit: &Circuit, from: &str, to: &str, ohms: f64) -> Vehicle {
    let mut vehicle = Vehicle::healthy(circuit);
    let mut path = circuit.components[0].clone();
    path.id = "path".to_owned();
    path.kind = ComponentKind::Connection { from: from.to_owned(), to: to.to_owned(), ohms };
    path.present_when.clear();
    path.faults.clear();
    path.tolerance_percent = 0.0;
    std::sync::Arc::make_mut(&mut vehicle.circuit).components.push(path);
    vehicle
}

#[test]
fn a_path_in_the_harness_is_no_bad_module() {
    let (mut calls, mut calls_unasked) = (0, 0);
    for (id, from, to, ohms) in PATHS {
        let circuit = library::find(id).unwrap();
        let mut unasked = circuit.clone();
        for module in &mut unasked.modules {
            module.evidence.retain(|need| need.code != EvidenceCode::Harness);
        }
        let vehicle = with_path(&circuit, from, to, ohms);
        assert!(vehicle.complains().unwrap(), "{id}: {from} to {to} shows no complaint");
        let (gated, open) = (engine(&circuit), engine(&unasked));
        for seed in SEEDS {
            let call = |engine: &Engine<'_>| {
                let ended = search(engine, vehicle.clone(), &circuit, seed);
                usize::from(matches!(ended, Ended::ModuleCalled(_)))
            };
            calls += call(&gated);
            calls_unasked += call(&open);
        }
    }
    assert_eq!(calls, 0);
    // Without that line on the list these very paths end in calls: the line is what holds them back.
    assert!(calls_unasked >= 3, "{calls_unasked}");
}
