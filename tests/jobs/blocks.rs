//! Circuits put together from blocks: frozen into the job, and refused field by field.

use crate::shop::{Shop, meter};
use api::entry::*;
use std::collections::BTreeMap;

/// A starter relay that the engine module feeds, put together from blocks: frozen into the job whole, with this vehicle's
/// pins and colors, and measured like any other.
#[test]
fn a_circuit_from_blocks_is_frozen_into_the_job() {
    let shop = Shop::open();
    let lists = shop.workshop.circuit_blocks().unwrap();
    let starter = lists.loads.iter().find(|load| load.id == "starter").unwrap();
    assert_eq!(starter.complaint.es, "El motor de arranque no gira");
    let asks = |by: &str| {
        let switch = lists.switches.iter().find(|switch| switch.id == by).unwrap();
        BlocksRequest { by: by.into(), how: switch.how.clone() }
    };
    let entry = BlocksEntry {
        load: starter.id.clone(),
        drive: "module_feeds".into(),
        leg: "ground".into(),
        through: "range_switch".into(),
        across: "resistor".into(),
        module: "engine_module".into(),
        asked: asks(&starter.asked_by[0]),
        conditions: vec![asks("theft_release")],
        coil_ohms: "85,5".into(),
        pins: BTreeMap::from([
            ("mod_out".to_owned(), "C2-14".to_owned()),
            ("mod_feed".to_owned(), String::new()),
        ]),
        colours: BTreeMap::from([("wire_control".to_owned(), "yegn".to_owned())]),
        switched_by: "relay".into(),
        own: BlocksOwnLoad::default(),
    };
    let job = shop.job().job;
    shop.workshop.meter_choose(&job, &meter()).unwrap();
    let view = shop.workshop.circuit_compose(&job, &entry).unwrap();
    let circuit = view.circuit.unwrap();
    assert!(circuit.id.starts_with("starter-"), "{}", circuit.id);
    let pins = || circuit.connectors.iter().flat_map(|connector| &connector.pins);
    assert!(pins().any(|pin| pin.number == "C2-14" && pin.colour == "YEGN"));
    let next = view.diagnosis.unwrap().next[0].test.clone();
    assert!(circuit.tests.iter().any(|test| test.id == next));
    // Another vehicle's pins and colors make no other circuit: closed jobs are counted together.
    let other = BlocksEntry { pins: BTreeMap::new(), colours: BTreeMap::new(), ..entry.clone() };
    assert_eq!(shop.workshop.circuit_compose(&job, &other).unwrap().circuit.unwrap().id, circuit.id);
    let refused = |change: fn(&mut BlocksEntry)| {
        let mut entry = entry.clone();
        change(&mut entry);
        Shop::code(shop.workshop.circuit_compose(&job, &entry))
    };
    assert_eq!(refused(|entry| entry.leg = "fuse".into()), "circuit_refused");
    assert_eq!(refused(|entry| entry.load = "sail".into()), "circuit_refused");
    assert_eq!(refused(|entry| entry.drive = "rope".into()), "unknown_choice");
    assert_eq!(refused(|entry| entry.switched_by = "magic".into()), "unknown_choice");
    let said = |entry: &BlocksEntry| {
        let error = shop.workshop.circuit_compose(&job, entry).unwrap_err();
        let seen = api::ErrorView::from(error);
        let value = |name: &str| seen.values.get(name).cloned().unwrap_or_default();
        (
            seen.code.clone(),
            value("place"),
            value("value"),
            format!("{} to {}", value("least"), value("most")),
        )
    };
    let says = |code: &str, place: &str, value: &str, range: &str| {
        (code.to_owned(), place.to_owned(), value.to_owned(), range.to_owned())
    };
    let coil = |typed: &str| BlocksEntry { coil_ohms: typed.into(), ..entry.clone() };
    assert_eq!(said(&coil("many")), says("not_a_number", "coil_ohms", "many", " to "));
    assert_eq!(said(&coil("1e9")), says("number_out_of_range", "coil_ohms", "1e9", "5 to 2000"));
    let colours = BTreeMap::from([("wire_control".to_owned(), "zzz".to_owned())]);
    let painted = BlocksEntry { colours, ..entry.clone() };
    assert_eq!(said(&painted), says("no_color", "colours/wire_control", "zzz", " to "));
    let sealed = shop.workshop.job_view(&job).unwrap().timeline.len();
    let odd = ["-1", "0", "1e9", "1000000000", "12,345,6", "🦊", "99/99/2099"];
    for typed in odd {
        let coil = BlocksEntry { coil_ohms: typed.into(), ..entry.clone() };
        assert!(shop.workshop.circuit_compose(&job, &coil).is_err(), "a coil of {typed:?}");
    }
    for typed in odd {
        let colours = BTreeMap::from([("wire_control".to_owned(), typed.to_owned())]);
        let wire = BlocksEntry { colours, ..entry.clone() };
        assert!(shop.workshop.circuit_compose(&job, &wire).is_err(), "a wire of {typed:?}");
    }
    assert_eq!(shop.workshop.job_view(&job).unwrap().timeline.len(), sealed, "nothing is sealed");
    assert_eq!(
        shop.workshop.job_view(&job).unwrap().circuit.unwrap().id,
        circuit.id,
        "a refusal loses nothing"
    );
}

/// A load that no list has, in the technician's own words, and no relay: the module's own output feeds it.
#[test]
fn a_load_of_ones_own_is_driven_by_the_module_itself() {
    let shop = Shop::open();
    let own = BlocksOwnLoad {
        name: "rear wiper motor".into(),
        complaint: "Rear wiper dead".into(),
        sort: "motor".into(),
        amount: "4,5".into(),
        unit: "amps".into(),
    };
    let entry = BlocksEntry {
        load: "named".into(),
        own,
        switched_by: "module_output".into(),
        drive: "module_feeds".into(),
        leg: "ground".into(),
        across: "nothing".into(),
        module: "body_module".into(),
        asked: BlocksRequest { by: "control_switch".into(), how: "switch_to_ground".into() },
        // What the screen doesn't show for this way of switching isn't looked at.
        coil_ohms: "80".into(),
        ..BlocksEntry::default()
    };
    let job = shop.job().job;
    shop.workshop.meter_choose(&job, &meter()).unwrap();
    let said = |change: &dyn Fn(&mut BlocksOwnLoad)| {
        let mut changed = entry.clone();
        change(&mut changed.own);
        let seen = api::ErrorView::from(shop.workshop.circuit_compose(&job, &changed).unwrap_err());
        (seen.code, seen.values["place"].clone())
    };
    let is = |code: &str, place: &str| (code.to_owned(), place.to_owned());
    assert_eq!(said(&|own| own.amount = "900".into()), is("number_out_of_range", "own/amount"));
    assert_eq!(said(&|own| own.amount = "a lot".into()), is("not_a_number", "own/amount"));
    assert_eq!(said(&|own| own.amount.clear()), is("field_empty", "own/amount"));
    assert_eq!(said(&|own| own.name = "  ".into()), is("field_empty", "own/name"));
    assert_eq!(said(&|own| own.name = "\u{202e}repiw".into()), is("words_refused", "own/name"));
    assert_eq!(said(&|own| own.complaint = "x".repeat(500)), is("words_refused", "own/complaint"));
    let view = shop.workshop.circuit_compose(&job, &entry).unwrap();
    let circuit = view.circuit.unwrap();
    assert_eq!(circuit.title.en, "Rear wiper motor: the module's own output, no relay");
    assert!(circuit.tests.iter().any(|test| test.title.es.contains("«rear wiper motor»")));
    assert!(circuit.state_variables.iter().all(|variable| variable.id != "relay"));
}
