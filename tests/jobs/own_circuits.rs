//! The shop's own circuits: entered, checked field by field, kept, shared, used in a job; and pins in doubt.

use crate::shop::{Shop, meter, reading};
use api::entry::*;
use std::collections::BTreeMap;

fn part(name: &str, from: &str, to: &str, kind: &str) -> OwnPartEntry {
    OwnPartEntry {
        name: name.into(),
        from: from.into(),
        to: to.into(),
        kind: kind.into(),
        size_unit: "mm2".into(),
        closed_by: "request".into(),
        ..OwnPartEntry::default()
    }
}

fn wire(name: &str, from: &str, to: &str) -> OwnPartEntry {
    let (length_m, size) = ("2,5".into(), "1.5".into());
    OwnPartEntry { length_m, size, colour: "buye".into(), ..part(name, from, to, "wire") }
}

/// A lamp behind a fuse and a switch, as a technician would type it; invented.
fn lamp() -> OwnCircuitEntry {
    OwnCircuitEntry {
        title: "Cargo lamp".into(),
        source: "page 12".into(),
        complaint: "Lamp stays dark".into(),
        works: "lamp".into(),
        parts: vec![
            part("battery", "B+", "B-", "battery"),
            OwnPartEntry { amps: "10".into(), ..part("fuse", "B+", "F out", "fuse") },
            part("door switch", "F out", "S out", "switch"),
            wire("wire 1", "S out", "L in"),
            OwnPartEntry { watts: "21".into(), ..part("lamp", "L in", "L out", "lamp") },
            wire("wire 2", "L out", "B-"),
        ],
        connectors: vec![OwnConnectorEntry {
            name: "C7".into(),
            pins: [("1", "L in"), ("2", "L out")]
                .map(|(number, point)| OwnPinEntry {
                    number: number.into(),
                    point: point.into(),
                    colour: "BUYE".into(),
                })
                .into(),
        }],
        ..OwnCircuitEntry::default()
    }
}

#[test]
fn what_is_entered_is_checked_drawn_and_solved() {
    let shop = Shop::open();
    let on = BTreeMap::from([("request".to_owned(), "on".to_owned()), ("nonsense".into(), "x".into())]);
    let check = shop.workshop.own_circuit_check(&lamp(), &on);
    assert!(check.problems.is_empty(), "{:?}", check.problems);
    let circuit = check.circuit.unwrap();
    assert_eq!(check.state["request"], "on");
    assert!(check.steady && !check.state.contains_key("nonsense"));
    let volts = |circuit: &api::view::CircuitView, name: &str| {
        circuit.points.iter().find(|point| point.name.en == name).unwrap().expected_volts.unwrap()
    };
    // By hand: 21 W at 12 V is 6.86 ohm; 5 m of 1.5 mm² (13.3 mohm/m, handbooks) and the switch take under 0.2 V at 1.8 A.
    assert!((volts(&circuit, "L in") - 12.55).abs() < 0.2, "{}", volts(&circuit, "L in"));
    let off = shop.workshop.own_circuit_check(&lamp(), &BTreeMap::new()).circuit.unwrap();
    assert!(volts(&off, "L in").abs() < 0.01, "the open switch leaves the lamp at ground");
    assert_eq!(circuit.connectors[0].pins[0].colour, "BUYE");
}

/// All problems at once, each at its field as the screen names it.
#[test]
fn every_problem_is_at_its_field() {
    let shop = Shop::open();
    let places = |change: fn(&mut OwnCircuitEntry)| {
        let mut entry = lamp();
        change(&mut entry);
        let check = shop.workshop.own_circuit_check(&entry, &BTreeMap::new());
        assert!(check.circuit.is_none());
        assert_eq!(Shop::code(shop.workshop.own_circuit_keep("", &entry)), "circuit_not_whole");
        check.problems.into_iter().map(|p| (p.place, p.code)).collect::<Vec<_>>()
    };
    let has = |found: &[(String, String)], place: &str, code: &str| {
        assert!(found.iter().any(|(p, c)| p == place && c == code), "{place} {code}: {found:?}");
    };
    let found = places(|e| {
        e.parts[1].amps = "ten".into();
        e.parts[3].size = String::new();
        e.parts[3].length_m = "long".into();
        e.parts[4].kind = "laser".into();
        e.parts[5].colour = "ZZ".into();
    });
    for place in ["parts/1/amps", "parts/3/size", "parts/3/length_m"] {
        has(&found, place, "number");
    }
    has(&found, "parts/4/kind", "not_listed");
    has(&found, "parts/5/colour", "not_listed");
    let found = places(|e| {
        e.title.clear();
        e.parts[1].amps = "9000".into();
        e.parts[2].to = "F out".into();
        e.works = "fuse".into();
    });
    has(&found, "title", "name");
    let found = places(|e| e.parts[1].amps = "9000".into());
    has(&found, "parts/1/amps", "number");
    let found = places(|e| e.parts[2].to = " F out ".into());
    has(&found, "parts/2/to", "contradiction");
    let found = places(|e| e.parts[5].to = "nowhere".into());
    assert!(found.iter().any(|(_, code)| code == "no_return"), "{found:?}");
}

#[test]
fn it_is_kept_used_shared_and_taken_out() {
    let shop = Shop::open();
    let rows = shop.workshop.own_circuit_keep("", &lamp()).unwrap();
    let id = rows[0].id.clone();
    assert!(
        shop.workshop.circuits(&CircuitsEntry::default()).unwrap().iter().any(|row| row.own && row.id == id)
    );
    let again = shop.workshop.own_circuit_view(&id).unwrap();
    assert_eq!((again.parts[3].length_m.as_str(), again.parts[3].colour.as_str()), ("2.5", "BUYE"));
    // Used in a job: measured, and still there when the list no longer has it.
    let job = shop.job().job;
    shop.workshop.meter_choose(&job, &meter()).unwrap();
    let view = shop.workshop.circuit_choose(&job, &id).unwrap();
    assert_eq!(view.circuit.as_ref().unwrap().id, id);
    let next = view.diagnosis.unwrap().next[0].test.clone();
    assert!(view.circuit.unwrap().tests.iter().any(|test| test.id == next));
    let path = shop.workshop.own_circuit_export(&id).unwrap();
    let text = std::fs::read_to_string(path).unwrap();
    assert!(shop.workshop.own_circuit_remove(&id).unwrap().is_empty());
    assert_eq!(Shop::code(shop.workshop.circuit_choose(&job, &id)), "circuit_refused");
    assert_eq!(shop.workshop.job_view(&job).unwrap().circuit.unwrap().id, id);
    // Another shop reads the file; undo brings the same id back.
    let other = Shop::open();
    let imported = other.workshop.own_circuit_import(&text).unwrap();
    other.workshop.own_circuit_keep("", &imported).unwrap();
    assert_eq!(shop.workshop.own_circuit_keep(&id, &again).unwrap()[0].id, id);
    assert_eq!(Shop::code(shop.workshop.own_circuit_keep("../x", &again)), "unknown_choice");
}

#[test]
fn hostile_files_are_refused() {
    let shop = Shop::open();
    let import = |text: &str| Shop::code(shop.workshop.own_circuit_import(text));
    assert_eq!(import("GIF89a"), "circuit_file_refused");
    assert_eq!(import("{\"title\": 7}"), "circuit_file_refused");
    assert_eq!(import(&"[".repeat(100_000)), "circuit_file_too_large");
    assert_eq!(import(&" ".repeat(2_000_000)), "circuit_file_too_large");
    let mut many = lamp();
    many.parts.extend((0..400).map(|i| wire(&format!("extra {i}"), "B+", "L in")));
    let check = shop.workshop.own_circuit_check(&many, &BTreeMap::new());
    assert!(check.problems.iter().any(|problem| problem.code == "too_large"));
    let rows = shop.workshop.own_circuit_keep("", &lamp()).unwrap();
    let text = std::fs::read_to_string(shop.workshop.own_circuit_export(&rows[0].id).unwrap()).unwrap();
    let mut json: serde_json::Value = serde_json::from_str(&text).unwrap();
    let one = json["parts"][0].clone();
    json["parts"] = serde_json::Value::Array(vec![one; 5_000]);
    assert_eq!(import(&json.to_string()), "circuit_file_too_large");
}

/// A reading at a pin in doubt says which pin it is: battery volts are at the feed, nothing at the ground.
#[test]
fn a_reading_at_a_pin_in_doubt_tells_which_pin_it_is() {
    let shop = Shop::open();
    let job = shop.measuring();
    let note = |pin: &str, in_doubt: bool| PinEntry {
        connector: "module_connector".into(),
        pin: pin.into(),
        colour: String::new(),
        function: String::new(),
        note: String::new(),
        in_doubt,
        photos: vec![],
    };
    let view = shop.workshop.job_view(&job).unwrap();
    let connector = |view: &api::view::JobView| {
        let circuit = view.circuit.clone().unwrap();
        circuit.connectors.into_iter().find(|one| one.id == "module_connector").unwrap()
    };
    let of = |point: &str| {
        connector(&view).pins.into_iter().find(|pin| pin.point == point).map(|pin| pin.number).unwrap()
    };
    let (feed, ground) = (of("mod_feed"), of("mod_ground"));
    let at_pin = |pin: &str, volts: &str| ReadingEntry {
        test: "module_feed".into(),
        red: String::new(),
        red_pin: format!("module_connector/{pin}"),
        state: BTreeMap::from([("key".into(), "on".into())]),
        ..reading(volts, "V")
    };
    assert_eq!(Shop::code(shop.workshop.reading_keep(&job, &at_pin(&feed, "12.4"))), "unknown_choice");
    shop.workshop.pin_keep(&job, &note(&feed, true)).unwrap();
    let view = shop.workshop.pin_keep(&job, &note(&ground, true)).unwrap();
    let chance = |view: &api::view::JobView, pin: &str, point: &str| {
        let pin = connector(view).pins.into_iter().find(|one| one.number == pin).unwrap();
        let found = pin.likely.iter().find(|chance| chance.point == point);
        found.map_or(0.0, |chance| chance.probability)
    };
    // Two pins, one in ten wrong each: 0.81 against 0.01.
    assert!((chance(&view, &feed, "mod_feed") - 0.81 / 0.82).abs() < 1e-6);
    // What the diagram calls the ground shows the battery's volts, and the other nothing: they are the other way round.
    shop.workshop.reading_keep(&job, &at_pin(&ground, "12.42")).unwrap();
    let view = shop.workshop.reading_keep(&job, &at_pin(&feed, "0.00")).unwrap();
    assert!(chance(&view, &ground, "mod_feed") > 0.5, "{:?}", connector(&view).pins);
    assert_eq!(view.readings[0].test, "", "a test names points; a pin in doubt isn't one");
    assert!(view.diagnosis.unwrap().doubts.iter().all(|doubt| doubt.code != "not_weighed"));
}

/// Two modules, a crank position, a sensor, a splice and a pair, as a technician would type them: everything comes back as it
/// was typed, and what is wrong stands at its field.
#[test]
fn a_real_diagram_is_typed_kept_and_typed_back() {
    let shop = Shop::open();
    let input =
        |point: &str, asked_by: &str| OwnInputEntry { point: point.into(), asked_by: asked_by.into() };
    let output = |point: &str, drives: &str, duty: &str, asked_by: &str| OwnOutputEntry {
        point: point.into(),
        drives: drives.into(),
        duty_percent: duty.into(),
        asked_by: asked_by.into(),
    };
    let module = |name: &str, feed: &str, ground: &str, high: &str, low: &str| OwnModuleEntry {
        name: name.into(),
        feed: feed.into(),
        ground: ground.into(),
        can_high: high.into(),
        can_low: low.into(),
        can_terminated: true,
        ..OwnModuleEntry::default()
    };
    let splice = OwnPartEntry { others: vec!["G3".into(), "G4".into()], ..part("S1", "G1", "G2", "splice") };
    let sensor = OwnPartEntry {
        signal: "PS".into(),
        percent: "20".into(),
        ..part("pedal sensor", "E20", "G3", "sensor")
    };
    let start = OwnPartEntry { closed_by: "crank".into(), ..part("start contact", "B+", "I50", "switch") };
    let entry = OwnCircuitEntry {
        works: "starter".into(),
        works_while: "crank".into(),
        parts: vec![
            part("battery", "B+", "B-", "battery"),
            wire("w1", "B+", "E1"),
            wire("w2", "E2", "G1"),
            splice,
            wire("w3", "G2", "B-"),
            start,
            wire("w4", "I50", "E7"),
            wire("w5", "E12", "S"),
            OwnPartEntry { ohms: "2".into(), ..part("starter", "S", "B-", "load") },
            sensor,
            wire("w6", "PS", "E22"),
            wire("w7", "B+", "A1"),
            wire("w8", "A2", "G4"),
            wire("h", "E6", "A6"),
            wire("l", "E14", "A14"),
            wire("w9", "A9", "lamp +"),
            OwnPartEntry { watts: "21".into(), ..part("lamp", "lamp +", "B-", "lamp") },
        ],
        connectors: Vec::new(),
        modules: vec![
            OwnModuleEntry {
                inputs: vec![input("E7", "feed"), input("E22", "sensor")],
                outputs: vec![output("E12", "feed", "", "E7")],
                references: vec!["E20".into()],
                ..module("engine module", "E1", "E2", "E6", "E14")
            },
            OwnModuleEntry {
                outputs: vec![output("A9", "feed", "40", "bus")],
                ..module("body module", "A1", "A2", "A6", "A14")
            },
        ],
        ..lamp()
    };
    let check =
        shop.workshop.own_circuit_check(&entry, &BTreeMap::from([("key".to_owned(), "crank".to_owned())]));
    assert!(check.problems.is_empty(), "{:?}", check.problems);
    assert_eq!(check.state["key"], "crank");
    let rows = shop.workshop.own_circuit_keep("", &entry).unwrap();
    let mut back = shop.workshop.own_circuit_view(&rows[0].id).unwrap();
    // What a wire's length and colour are typed like doesn't matter.
    back.parts.iter_mut().zip(&entry.parts).for_each(|(back, typed)| {
        back.length_m.clone_from(&typed.length_m);
        back.colour.clone_from(&typed.colour);
        back.size_unit.clone_from(&typed.size_unit);
        if back.kind != "switch" {
            back.closed_by.clone_from(&typed.closed_by);
        }
    });
    assert_eq!(serde_json::to_value(&back).unwrap(), serde_json::to_value(&entry).unwrap());
    let places = |change: &dyn Fn(&mut OwnCircuitEntry)| {
        let mut changed = entry.clone();
        change(&mut changed);
        let check = shop.workshop.own_circuit_check(&changed, &BTreeMap::new());
        check.problems.into_iter().map(|problem| (problem.place, problem.code)).collect::<Vec<_>>()
    };
    let has = |found: Vec<(String, String)>, place: &str, code: &str| {
        assert!(found.contains(&(place.to_owned(), code.to_owned())), "{place} {code}: {found:?}");
    };
    has(places(&|e| e.modules[1].can_terminated = false), "modules/0/can_terminated", "bus_ends");
    has(places(&|e| e.modules[0].can_high = "nowhere".into()), "modules/0/can_high", "not_listed");
    has(
        places(&|e| e.modules[0].outputs[0].asked_by = "E99".into()),
        "modules/0/outputs/0/asked_by",
        "not_listed",
    );
    has(
        places(&|e| e.modules[1].outputs[0].duty_percent = "half".into()),
        "modules/1/outputs/0/duty_percent",
        "number",
    );
    has(
        places(&|e| e.modules[1].outputs[0].duty_percent = "400".into()),
        "modules/1/outputs/0/duty_percent",
        "number",
    );
    has(
        places(&|e| e.modules[0].inputs[0].asked_by = "magic".into()),
        "modules/0/inputs/0/asked_by",
        "not_listed",
    );
    has(places(&|e| e.parts[9].percent = "200".into()), "parts/9/percent", "number");
    has(places(&|e| e.parts[3].others[0] = "G1".into()), "parts/3/others/0", "contradiction");
    has(places(&|e| e.works_while = "key_on".into()), "works", "healthy_fails");
    has(places(&|e| e.works_while = "never".into()), "works_while", "not_listed");
}
