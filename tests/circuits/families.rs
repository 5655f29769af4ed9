//! Circuits made from blocks beside those that were written by hand: the same parts, the same diagnoses. And every
//! family of blocks makes a whole circuit.

use std::collections::{BTreeMap, BTreeSet};

use circuit::blocks::{Composition, Load, loads};
use circuit::{
    Circuit, Diagnosis, Engine, Fault, FaultSpec, Meter, MissingCode, ModuleVerdict, Observation,
    ObservedValue, Options, Present, Test, check, library,
};
use serde_json::{Value, json};

use crate::separable::cause_id;
use crate::vehicle::{Instrument, Vehicle};

const HIGH: &str = include_str!("by_hand/relay_high_side.json");
const LOW: &str = include_str!("by_hand/relay_low_side.json");
const PUMP: &str = include_str!("by_hand/fuel_pump.json");

/// As it was written, with what every circuit has in common.
fn by_hand(text: &str) -> Circuit {
    library::read("by hand.json", text).unwrap()
}

/// `section/id` → everything of it but what is only said, drawn or warned of.
fn substance(circuit: &Circuit) -> BTreeMap<String, Value> {
    let whole = serde_json::to_value(circuit).unwrap();
    let mut all = BTreeMap::new();
    for section in ["points", "components", "connectors", "variables", "loads", "tests", "modules"] {
        for entry in whole[section].as_array().unwrap() {
            all.insert(format!("{section}/{}", entry["id"].as_str().unwrap()), bare(entry));
        }
    }
    for field in ["complaint", "reference", "unmodelled_odds"] {
        all.insert(field.to_owned(), bare(&whole[field]));
    }
    all
}

fn bare(value: &Value) -> Value {
    match value {
        Value::Object(map) => {
            let said = ["name", "label", "function", "source", "cautions"];
            let fields = map.iter().filter(|(key, _)| !said.contains(&key.as_str()));
            let plain = |(key, value): (&String, &Value)| {
                // Of colors the base comes first, of tests the one best made first; elsewhere order means nothing.
                let keeps = ["colour", "tests"].contains(&key.as_str());
                (key.clone(), if keeps { value.clone() } else { bare(value) })
            };
            Value::Object(fields.map(plain).collect())
        }
        Value::Array(list) => {
            let mut list: Vec<Value> = list.iter().map(bare).collect();
            list.sort_by_key(Value::to_string);
            list.into()
        }
        Value::Number(number) => json!(number.as_f64()),
        other => other.clone(),
    }
}

/// The two relay circuits are made from blocks exactly as they were written by hand.
#[test]
fn blocks_make_what_was_written_by_hand() {
    for text in [HIGH, LOW] {
        let (hand, made) = (by_hand(text), library::find(&by_hand(text).id).unwrap());
        let (hand, made) = (substance(&hand), substance(&made));
        let names: BTreeSet<&String> = hand.keys().chain(made.keys()).collect();
        let differ: Vec<String> = names
            .into_iter()
            .filter(|name| hand.get(*name) != made.get(*name))
            .map(|name| format!("{name}\n  by hand {:?}\n  made    {:?}", hand.get(name), made.get(name)))
            .collect();
        assert!(differ.is_empty(), "{}", differ.join("\n"));
    }
}

/// Least, middle and greatest severity of every fault.
fn faults(circuit: &Circuit) -> Vec<Fault> {
    let of = |component: &str, spec: &FaultSpec| {
        let severities = match (spec.min, spec.max) {
            (Some(min), Some(max)) => vec![min, (min * max).sqrt(), max],
            _ => vec![0.0],
        };
        let fault = |severity| Fault {
            component: component.to_owned(),
            mode: spec.mode,
            severity,
            at: spec.at.clone(),
        };
        severities.into_iter().map(fault).collect::<Vec<_>>()
    };
    let parts = circuit.components.iter();
    parts.flat_map(|part| part.faults.iter().flat_map(|spec| of(&part.id, spec))).collect()
}

fn seen(circuit: &Circuit, fault: &Fault, test: &Test, number: u32) -> Observation {
    let vehicle = Vehicle { faults: vec![fault.clone()], ..Vehicle::healthy(circuit) };
    let value = match (&test.question, &test.red, &test.black) {
        (None, Some(red), Some(black)) => {
            vehicle.reading(test, (red, black), &Instrument::perfect(&Meter::default()), None).unwrap()
        }
        _ if vehicle.answer(test).unwrap() => ObservedValue::Yes,
        _ => ObservedValue::No,
    };
    Observation { complaint: Present::Yes, ..Observation::at(test, test.id.clone(), value, number) }
}

/// What the two say after the same readings: the same vehicle, written by hand, tested by the tests both have.
fn both(hand: &Circuit, made: &Circuit, mut compare: impl FnMut(&Fault, usize, &Diagnosis, &Diagnosis)) {
    let (meter, options) = (Meter::default(), Options { next_tests: 0, ..Options::default() });
    let engines = [hand, made].map(|circuit| Engine::new(circuit, &meter, &options).unwrap());
    let shared = |test: &&Test| made.tests.iter().any(|other| other.id == test.id);
    let tests: Vec<&Test> = hand.tests.iter().filter(shared).collect();
    assert!(tests.len() + 2 > hand.tests.len());
    // Every fault with TESTIMETER_FULL=1; else one in so many.
    let full = std::env::var("TESTIMETER_FULL").is_ok_and(|value| value == "1");
    for fault in faults(hand).into_iter().step_by(if full { 1 } else { 6 }) {
        let all: Vec<Observation> =
            (1..).zip(&tests).map(|(number, test)| seen(hand, &fault, test, number)).collect();
        for many in [3, 8, all.len()] {
            let [by_hand, by_blocks] = [0, 1].map(|i: usize| engines[i].diagnose(&all[..many]).unwrap());
            compare(&fault, many, &by_hand, &by_blocks);
        }
    }
}

/// Every fault at three severities, after three, eight and all tests: the same probabilities, the same verdicts.
#[test]
fn every_fault_leads_to_the_same_diagnosis() {
    for text in [HIGH, LOW] {
        let hand = by_hand(text);
        let made = library::find(&hand.id).unwrap();
        let mut compared = 0;
        both(&hand, &made, |fault, many, hand, made| {
            for cause in &hand.causes {
                let other = made.causes.iter().find(|other| other.id == cause.id).unwrap();
                let off = (cause.probability - other.probability).abs();
                // Parts and tests stand in another order, so that the severities' grid falls a little otherwise: 0.0004
                // seen, where halving that grid is allowed 0.005.
                assert!(off < 2e-3, "{fault:?} after {many}: {} is off by {off}", cause.id);
                compared += 1;
            }
            for (hand, made) in hand.modules.iter().zip(&made.modules) {
                assert_eq!(
                    (hand.may_be_called, missing(hand)),
                    (made.may_be_called, missing(made)),
                    "{fault:?}"
                );
            }
        });
        assert!(compared > 3_000, "{compared}");
    }
}

/// What is missing; of readings that contradict each other that there are some: which pair is named hangs on the last
/// digits.
fn missing(verdict: &ModuleVerdict) -> BTreeSet<(MissingCode, Option<String>)> {
    let about = |missing: &circuit::Missing| match missing.code {
        MissingCode::ReadingsContradict => None,
        _ => missing.about.clone(),
    };
    verdict.missing.iter().map(|missing| (missing.code, about(missing))).collect()
}

/// The fuel pump's file had no terminals in the relay socket, no cable to the fuse box, and odds and tests of its own;
/// its blocks have those of the family. Wherever the file's tests led to what is broken, the family's do.
#[test]
fn the_pump_finds_what_its_own_file_found() {
    let hand = by_hand(PUMP);
    let made = library::find("fuel_pump").unwrap();
    let ids = |circuit: &Circuit| -> BTreeSet<String> {
        let points = circuit.points.iter().map(|point| point.id.clone());
        points.chain(circuit.components.iter().map(|part| part.id.clone())).collect()
    };
    let lost: Vec<String> = ids(&hand).difference(&ids(&made)).cloned().collect();
    assert!(lost.is_empty(), "{lost:?}");
    let (mut found, mut lost) = (0, Vec::new());
    let (meter, options) = (Meter::default(), Options { next_tests: 0, ..Options::default() });
    let engines = [&hand, &made].map(|circuit| Engine::new(circuit, &meter, &options).unwrap());
    let known = |fault: &Fault| {
        let part = made.components.iter().find(|part| part.id == fault.component).unwrap();
        let spec = part.faults.iter().find(|spec| spec.mode == fault.mode).unwrap();
        spec.min.zip(spec.max).is_none_or(|(min, max)| (min..=max).contains(&fault.severity))
    };
    // A severity that the family doesn't hold for possible is no cause to it.
    let full = std::env::var("TESTIMETER_FULL").is_ok_and(|value| value == "1");
    for fault in faults(&hand).into_iter().filter(known).step_by(if full { 1 } else { 4 }) {
        let [by_hand, by_blocks] = [(&hand, &engines[0]), (&made, &engines[1])].map(|(circuit, engine)| {
            let seen: Vec<Observation> =
                (1..).zip(&circuit.tests).map(|(number, test)| seen(circuit, &fault, test, number)).collect();
            engine.diagnose(&seen).unwrap()
        });
        let id = cause_id(&fault.component, fault.mode);
        let called = |found: &Diagnosis| found.modules[0].may_be_called;
        assert!(called(&by_hand) || !called(&by_blocks), "{id} at {}", fault.severity);
        // Of one part the ways to fail may read alike: an open switch and one of a megohm.
        let names_it = |found: &Diagnosis| {
            leading(found).iter().any(|cause| cause.split('/').next() == Some(fault.component.as_str()))
        };
        if leading(&by_hand).contains(&id) {
            found += 1;
            if !names_it(&by_blocks) {
                lost.push(format!("{id} at {}: {:?}", fault.severity, leading(&by_blocks)));
            }
        }
    }
    assert!(found > if full { 80 } else { 18 }, "{found}");
    assert!(lost.is_empty(), "{} of {found}:\n{}", lost.len(), lost.join("\n"));
}

fn leading(found: &Diagnosis) -> Vec<String> {
    let Some(first) = found.causes.first() else { return Vec::new() };
    let group = found.inseparable.iter().find(|group| group.contains(&first.id)).cloned();
    group.unwrap_or_else(|| vec![first.id.clone()])
}

/// Every load, driven in every way, with every leg: a whole circuit that passes the checker, its module guarded by the
/// whole list, and no word in it of another load.
#[test]
fn every_family_is_whole() {
    let (mut made, mut odd) = (0, Vec::new());
    for load in loads().unwrap() {
        for (drive, leg) in [
            ("module_feeds", json!({"on": "ground"})),
            ("module_feeds", json!({"on": "ground", "through": "range_switch"})),
            ("module_grounds", json!({"on": "load_fuse"})),
            ("module_grounds", json!({"on": "fuse"})),
            ("module_grounds", json!({"on": "ignition", "through": "range_switch"})),
            ("switch_feeds", json!({"on": "ground"})),
            ("switch_grounds", json!({"on": "fuse"})),
        ] {
            let by_module = drive.starts_with("module");
            let by = if load.id == "starter" { "ignition_start" } else { "control_switch" };
            let how = if by_module { "switch_to_feed" } else { "directly" };
            let across = ["nothing", "diode", "resistor"][made % 3];
            let mut composition = json!({
                "blocks": 1, "id": "tried", "version": 1, "load": {"listed": load.id}, "drive": drive, "leg": leg,
                "across": across,
                "requests": [{"id": "request", "by": by, "how": how}],
            });
            if by_module {
                composition["module"] = json!({"listed": "body_module"});
                let more = json!({"id": "bus", "by": "theft_release", "how": "over_the_bus"});
                composition["requests"].as_array_mut().unwrap().push(more);
            }
            let circuit = Composition::from_json(&composition.to_string()).unwrap().circuit();
            let circuit = circuit.unwrap_or_else(|error| panic!("{composition}: {error}"));
            let text = serde_json::to_string(&circuit).unwrap();
            assert_eq!(check::check(&text).unwrap(), circuit, "{composition}");
            let places: BTreeSet<(u64, u64)> =
                circuit.points.iter().map(|point| (point.x.to_bits(), point.y.to_bits())).collect();
            assert_eq!(places.len(), circuit.points.len(), "points lie on each other: {composition}");
            odd.extend(foreign_words(&load, &text));
            made += 1;
        }
    }
    assert!(odd.is_empty(), "{odd:?}");
    assert!(made >= 70, "{made}");
}

/// Words of other loads in a circuit's text.
fn foreign_words(load: &Load, text: &str) -> Vec<String> {
    let nouns = [
        ("radiator_fan", " fan"),
        ("radiator_fan", "ventilador"),
        ("horn", "horn"),
        ("horn", "bocina"),
        ("fuel_pump", "combustible"),
        ("starter", "starter"),
        ("starter", "solenoid"),
        ("starter", "motor de arranque"),
        ("low_beam", "low beam"),
        ("blower", "blower"),
        ("rear_defogger", "defogger"),
    ];
    let foreign = nouns.iter().filter(|(of, noun)| *of != load.id && text.to_lowercase().contains(noun));
    foreign.map(|(of, noun)| format!("{}: {noun:?} of {of}", load.id)).collect()
}

/// What doesn't fit together is refused, with the field.
#[test]
fn blocks_that_do_not_fit_are_refused() {
    let text =
        library::files().iter().find(|(name, _)| *name == "starter_control_low_side.blocks.json").unwrap().1;
    let refused = |change: fn(&mut Value), says: &str| {
        let mut composition: Value = serde_json::from_str(text).unwrap();
        change(&mut composition);
        let made = Composition::from_json(&composition.to_string()).and_then(|made| made.circuit());
        let error = made.unwrap_err().to_string();
        assert!(error.contains(says), "{error}");
    };
    refused(|c| c["leg"]["on"] = json!("ground"), "leg/on");
    refused(|c| c["load"] = json!({"listed": "sail"}), "load sail");
    refused(|c| c["requests"][0]["by"] = json!("whistle"), "switch whistle");
    refused(|c| c["requests"][1]["id"] = json!("crank"), "requests");
    refused(|c| c["requests"][0]["how"] = json!("directly"), "requests");
    refused(|c| drop(c.as_object_mut().unwrap().remove("module")), "module");
    refused(|c| c["pins"]["mod_moon"] = json!("1"), "point mod_moon");
    refused(|c| c["wires"]["wire_moon"] = json!({"colour": ["RD"]}), "wire wire_moon");
    refused(|c| c["coil_ohms"] = json!(0.0), "Write 5 to 2000 ohm");
    refused(|c| c["switched_by"] = json!("module_output"), "leg");
    refused(|c| c["blocks"] = json!(2), "version 2");
    refused(|c| c["colour"] = json!("RD"), "unknown field");
}
