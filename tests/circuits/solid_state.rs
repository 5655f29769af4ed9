//! Circuits of blocks without a moving contact: the module's own output, a solid-state relay; and loads in the technician's
//! own words. Every family is whole, a bad module is called, a bad wire, terminal or load is not taken for one.

use std::collections::BTreeSet;

use circuit::blocks::{Composition, LoadChoice, loads};
use circuit::{Circuit, CircuitError, FaultMode, check};
use serde_json::{Value, json};

use crate::bench::fault;
use crate::search::{Search, engine, leading_part};
use crate::technician::Ended;

fn made(composition: &Value) -> Result<Circuit, CircuitError> {
    Composition::from_json(&composition.to_string())?.circuit()
}

/// A wiper motor that isn't on the list, as a technician would say it.
fn named(sort: &str, stated: &Value) -> Value {
    json!({"named": {"name": "rear wiper motor", "complaint": "Rear wiper dead", "sort": sort, "stated": stated}})
}

fn composition(load: &Value, switched_by: &str, drive: &str, how: &str) -> Value {
    let by = if how == "over_the_bus" { "bus_request" } else { "control_switch" };
    let leg = match (switched_by, drive) {
        ("module_output", _) | (_, "module_feeds") => json!({"on": "ground"}),
        _ => json!({"on": "ignition"}),
    };
    json!({
        "blocks": 1, "id": "tried", "version": 1, "load": load, "switched_by": switched_by, "drive": drive, "leg": leg,
        "module": {"listed": "body_module"}, "requests": [{"id": "request", "by": by, "how": how}],
    })
}

fn every_load() -> Vec<Value> {
    let listed = loads().unwrap().into_iter().map(|load| json!({"listed": load.id}));
    let own = [
        ("motor", json!({"amps": 4.5})),
        ("motor", json!({"ohms": 0.6})),
        ("lamp", json!({"amps": 0.4})),
        ("lamp", json!({"ohms": 0.3})),
        ("heater", json!({"ohms": 1.2})),
        ("heater", json!({"amps": 30.0})),
        ("magnet", json!({"ohms": 28.0})),
        ("magnet", json!({"amps": 0.3})),
    ];
    listed.chain(own.iter().map(|(sort, stated)| named(sort, stated))).collect()
}

/// Every load, switched in every way: a whole circuit that passes the checker, reads back as a file and is drawn.
#[test]
fn every_family_is_whole() {
    let mut made_up = 0;
    for load in every_load() {
        for switched_by in ["relay", "solid_state_relay", "module_output"] {
            for drive in ["module_feeds", "module_grounds"] {
                for how in ["switch_to_ground", "switch_to_feed", "over_the_bus"] {
                    let composition = composition(&load, switched_by, drive, how);
                    let circuit = match made(&composition) {
                        // A starter is grounded by its housing: nothing can stand between it and ground.
                        Err(error) if error.to_string().contains("grounded by its housing") => {
                            assert_eq!(load["listed"], "starter");
                            continue;
                        }
                        made => made.unwrap_or_else(|error| panic!("{composition}: {error}")),
                    };
                    let text = serde_json::to_string(&circuit).unwrap();
                    assert!(
                        check::check(&text).unwrap() == circuit,
                        "it reads back otherwise: {composition}"
                    );
                    let places: BTreeSet<(u64, u64)> =
                        circuit.points.iter().map(|point| (point.x.to_bits(), point.y.to_bits())).collect();
                    assert_eq!(places.len(), circuit.points.len(), "points lie on each other: {composition}");
                    let relay = text.contains("relay") || text.contains("relé");
                    let speaks_of_none = switched_by == "module_output"
                        && circuit.tests.iter().any(|test| test.name.en.to_lowercase().contains("relay"));
                    assert!(relay || switched_by == "module_output", "{composition}");
                    assert!(!speaks_of_none, "{composition}: a test speaks of a relay that isn't there");
                    made_up += 1;
                }
            }
        }
    }
    assert!(made_up > 280, "{made_up}");
}

/// Circuits whose module is to be proven bad, and whose wires are not to be taken for it.
fn tried() -> Vec<Value> {
    let (fan, horn) = (json!({"listed": "radiator_fan"}), json!({"listed": "horn"}));
    vec![
        composition(&json!({"listed": "low_beam"}), "module_output", "module_feeds", "switch_to_feed"),
        composition(&json!({"listed": "starter"}), "module_output", "module_feeds", "switch_to_ground"),
        composition(&fan, "module_output", "module_grounds", "switch_to_ground"),
        composition(&named("motor", &json!({"amps": 4.5})), "module_output", "module_feeds", "over_the_bus"),
        composition(
            &named("magnet", &json!({"ohms": 14.0})),
            "module_output",
            "module_grounds",
            "over_the_bus",
        ),
        composition(&horn, "solid_state_relay", "module_feeds", "switch_to_ground"),
        composition(&fan, "solid_state_relay", "module_grounds", "over_the_bus"),
    ]
}

/// A dead and a weak output are called in the end.
#[test]
fn a_bad_module_is_called() {
    for composition in tried() {
        let circuit = made(&composition).unwrap();
        let engine = engine(&circuit);
        for (mode, severity) in [(FaultMode::Dead, 0.0), (FaultMode::Weak, 2e3)] {
            let fault = fault("driver", mode, severity);
            let mut search = Search::new(&engine, &circuit, &fault, 3);
            assert!(search.complains(), "{fault:?} in {composition}");
            let (ended, found) = search.finish();
            let called = matches!(ended, Ended::ModuleCalled(_));
            let missing = &found.modules[0].missing;
            assert!(called, "{fault:?} in {composition}: {missing:?} {:?}", search.taken());
        }
    }
}

/// Whatever else is broken: the module isn't called, and the part that is broken leads.
#[test]
fn what_is_around_a_good_module_is_found() {
    let full = std::env::var("TESTIMETER_FULL").is_ok_and(|value| value == "1");
    let (mut searched, mut found_it, mut missed) = (0, 0, Vec::new());
    for (number, composition) in tried().into_iter().enumerate() {
        let circuit = made(&composition).unwrap();
        let engine = engine(&circuit);
        let others = circuit.components.iter().filter(|part| part.id != "driver");
        let all = others.flat_map(|part| part.faults.iter().map(move |spec| (part, spec)));
        let step = if full { 1 } else { 7 };
        for (part, spec) in all.skip(number % step).step_by(step) {
            let severity = spec.min.zip(spec.max).map_or(0.0, |(min, max)| (min * max).sqrt());
            let fault = circuit::Fault { at: spec.at.clone(), ..fault(&part.id, spec.mode, severity) };
            let mut search = Search::new(&engine, &circuit, &fault, 5);
            if !search.complains() {
                continue;
            }
            searched += 1;
            let (ended, found) = search.finish();
            let called = matches!(ended, Ended::ModuleCalled(_));
            assert!(!called, "{fault:?} in {composition}: {:?}", search.taken());
            let (leading, share) = leading_part(&found);
            if leading == part.id {
                found_it += 1;
            } else {
                missed.push(format!("{} {:?} {severity}: {leading} {share:.2}", part.id, spec.mode));
            }
        }
    }
    println!("{found_it} of {searched} lead\n{}", missed.join("\n"));
    assert!(found_it * 100 >= searched * 85, "{found_it} of {searched}: {}", missed.join("\n"));
}

/// A refused field is named, with what to write.
#[test]
fn a_refused_field_is_named() {
    let refused = |change: &dyn Fn(&mut Value)| {
        let mut whole =
            composition(&named("motor", &json!({"amps": 4.5})), "relay", "module_feeds", "over_the_bus");
        change(&mut whole);
        made(&whole).unwrap_err()
    };
    let out_of_range = |change: &dyn Fn(&mut Value), at: &str, says: &str| {
        let error = refused(change);
        let named = matches!(&error, CircuitError::OutOfRange { place, .. } if place == at);
        assert!(named && error.to_string().contains(says), "{error}");
    };
    let stated = "load/stated";
    out_of_range(&|c| c["coil_ohms"] = json!(1e9), "coil_ohms", "Write 5 to 2000 ohm");
    out_of_range(&|c| c["load"]["named"]["stated"] = json!({"amps": 4000.0}), stated, "Write 0.05 to 30 A");
    out_of_range(&|c| c["load"]["named"]["stated"] = json!({"ohms": 0.0}), stated, "Write 0.02 to 240 ohm");
    // 12 V over 0.05 ohm would be 240 A.
    let heater = |c: &mut Value| c["load"] = named("heater", &json!({"ohms": 0.05}));
    out_of_range(&heater, stated, "Write 0.02 to 240 ohm");
    for (name, at) in [("", "load/name"), ("\u{202e}repiw", "load/name"), (&*"x".repeat(50), "load/name")] {
        let error = refused(&|c| c["load"]["named"]["name"] = json!(name));
        assert!(matches!(&error, CircuitError::Field { place, .. } if place == at), "{error}");
    }
    let error = refused(&|c| {
        c["switched_by"] = json!("solid_state_relay");
        c["across"] = json!("diode");
    });
    assert!(matches!(&error, CircuitError::Field { place, .. } if place == "across"), "{error}");
}

/// The name that closed jobs are counted by is for a relay what it was before anything else could switch a load.
#[test]
fn relays_keep_their_names() {
    let relay = composition(&json!({"listed": "horn"}), "relay", "module_feeds", "switch_to_ground");
    let read = |value: &Value| Composition::from_json(&value.to_string()).unwrap();
    let without = |key: &str| {
        let mut value = relay.clone();
        value.as_object_mut().unwrap().remove(key);
        read(&value)
    };
    // Written down before `switched_by` was a field.
    assert_eq!(read(&relay).id_of_blocks(), without("switched_by").id_of_blocks());
    let own = Composition { switched_by: circuit::blocks::SwitchedBy::ModuleOutput, ..read(&relay) };
    assert_ne!(own.id_of_blocks(), read(&relay).id_of_blocks());
    assert!(matches!(read(&relay).load, LoadChoice::Listed(_)));
}
