//! Two faults at once: where the readings of the whole list, each taken twice, fit no single cause, the two parts lead.

use circuit::{
    Circuit, Engine, Fault, FaultMode, Meter, Observation, ObservedValue, Options, Present, library,
};

use crate::bench::fault;
use crate::vehicle::{Instrument, Vehicle};

/// Exact readings of every test, so many times each.
fn readings(circuit: &Circuit, faults: &[Fault], times: u32) -> Vec<Observation> {
    let vehicle = Vehicle { faults: faults.to_vec(), ..Vehicle::healthy(circuit) };
    let instrument = Instrument::perfect(&Meter::default());
    let mut all = Vec::new();
    for test in (0..times).flat_map(|_| &circuit.tests) {
        let value = match (&test.question, &test.red, &test.black) {
            (None, Some(red), Some(black)) => vehicle.reading(test, (red, black), &instrument, None).unwrap(),
            _ if vehicle.answer(test).unwrap() => ObservedValue::Yes,
            _ => ObservedValue::No,
        };
        let number = u32::try_from(all.len()).unwrap() + 1;
        let seen = Observation::at(test, format!("{number} {}", test.id), value, number);
        all.push(Observation { complaint: Present::Yes, ..seen });
    }
    all
}

/// Nothing outside the circuit speaks louder: one fault hides the other from most tests, and what is left of it was taken for
/// leads gone astray.
#[test]
fn both_parts_lead() {
    let cases = [
        (
            "relay_high_side",
            [("driver", FaultMode::Weak, 60.0), ("wire_85", FaultMode::HighResistance, 60.0)],
        ),
        ("blower", [("blower_motor", FaultMode::Open, 0.0), ("step_2", FaultMode::Open, 0.0)]),
        ("charging", [("rotor", FaultMode::Open, 0.0), ("charge_lamp", FaultMode::Open, 0.0)]),
        ("heated_seat", [("button", FaultMode::StuckOpen, 0.0), ("driver", FaultMode::Dead, 0.0)]),
        ("trailer_lights", [("tr_ground", FaultMode::Open, 0.0), ("wire_module_feed", FaultMode::Open, 0.0)]),
    ];
    for (id, two) in cases {
        let circuit = library::find(id).unwrap();
        let options = Options { look_alikes: 0.0, ..Options::default() };
        let engine = Engine::new(&circuit, &Meter::default(), &options).unwrap();
        let faults = two.map(|(part, mode, severity)| fault(part, mode, severity));
        let found = engine.diagnose(&readings(&circuit, &faults, 2)).unwrap();
        let best = found.pairs.first().map(|pair| (pair.causes.clone(), pair.probability));
        let (causes, probability) = best.unwrap_or_default();
        let part = |cause: &String| cause.split('/').next().unwrap_or_default().to_owned();
        let parts: Vec<String> = causes.iter().map(part).collect();
        let single = found.causes.first().unwrap();
        let what = format!(
            "{id}: {causes:?} {probability}; {} {}; outside {}",
            single.id, single.probability, found.unmodeled
        );
        assert!(two.iter().all(|(part, ..)| parts.iter().any(|other| other == part)), "{what}");
        assert!(probability > single.probability.max(found.unmodeled), "{what}");
    }
}

/// One cause that explains everything needs no second one beside it.
#[test]
fn one_fault_is_no_pair() {
    for id in ["relay_high_side", "blower", "charging"] {
        let circuit = library::find(id).unwrap();
        let engine = Engine::new(&circuit, &Meter::default(), &Options::default()).unwrap();
        let part = circuit
            .components
            .iter()
            .find(|part| part.faults.iter().any(|spec| spec.mode == FaultMode::Open))
            .unwrap();
        let found =
            engine.diagnose(&readings(&circuit, &[fault(&part.id, FaultMode::Open, 0.0)], 2)).unwrap();
        assert!(
            found.pairs.iter().map(|pair| pair.probability).sum::<f64>() < 1e-3,
            "{id}: {:?}",
            found.pairs
        );
    }
}
