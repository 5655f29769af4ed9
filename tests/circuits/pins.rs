//! Eight pins in doubt at once, and the time that takes.

use std::time::Instant;

use circuit::{
    Circuit, Engine, MeasureMode, Meter, Observation, ObservedValue, Options, Present, State, UnknownPins,
    library,
};

fn at_pin(number: usize, pin: &str, volts: f64, state: &[(&str, &str)]) -> Observation {
    let state: State = state.iter().map(|(name, value)| ((*name).to_owned(), (*value).to_owned())).collect();
    Observation {
        id: number.to_string(),
        mode: MeasureMode::VoltsDc,
        red_pin: Some(pin.to_owned()),
        black: Some("bat_neg".to_owned()),
        value: ObservedValue::Number(volts),
        complaint: Present::Yes,
        placement: u32::try_from(number).unwrap(),
        state,
        ..Observation::default()
    }
}

/// What this thread has had of a processor, ms; 0 where the system doesn't tell.
fn on_cpu_ms() -> u64 {
    let text = std::fs::read_to_string("/proc/thread-self/schedstat").unwrap_or_default();
    text.split_whitespace().next().and_then(|ns| ns.parse::<u64>().ok()).unwrap_or(0) / 1_000_000
}

/// Eight pins of one connector, or of two, with a few readings: what was wired is found, and the time is printed.
#[test]
fn eight_pins() {
    let mut circuit = library::find("relay_high_side").unwrap();
    let on = [("key", "on"), ("request", "on")];
    let of = |circuit: &Circuit, id: &str| {
        circuit.connectors.iter().find(|one| one.id == id).unwrap().pins.clone()
    };
    let (socket, module) = (of(&circuit, "relay_socket"), of(&circuit, "module_connector"));
    let two = Options {
        unknown_pins: Some(UnknownPins::of("relay_socket")),
        further_unknown_pins: vec![UnknownPins::of("module_connector")],
        ..Options::default()
    };
    let one = Options { unknown_pins: Some(UnknownPins::of("all")), ..Options::default() };
    let mut all = circuit.connectors[0].clone();
    "all".clone_into(&mut all.id);
    all.pins = module.into_iter().chain(socket).collect();
    circuit.connectors.push(all);
    // Healthy volts but for a control wire of 150 ohm; feed and output of the module on each other's pins.
    let volts = [("2", 12.4), ("4", 0.02), ("1", 12.3), ("86", 4.1), ("85", 0.03), ("30", 12.4)];
    let many: Vec<(&str, f64)> = volts.into_iter().chain([("3", 0.1), ("87", 0.0)]).collect();
    for (name, options, prefix) in
        [("one connector", &one, ""), ("two connectors", &two, "module_connector/")]
    {
        let engine = Engine::new(&circuit, &Meter::default(), options).unwrap();
        for count in [1, 2, 4, 6, 8] {
            let pin = |pin: &str| if pin.len() == 1 { format!("{prefix}{pin}") } else { pin.to_owned() };
            let seen: Vec<Observation> = many
                .iter()
                .take(count)
                .enumerate()
                .map(|(i, (number, volts))| at_pin(i + 1, &pin(number), *volts, &on))
                .collect();
            let (wall, cpu) = (Instant::now(), on_cpu_ms());
            let found = engine.diagnose(&seen).unwrap();
            let (wall, cpu) = (wall.elapsed(), on_cpu_ms() - cpu);
            println!("PINS {name}, {count} readings: {cpu} ms on the processor, {wall:?}");
            let total: f64 = found.pin_outs.iter().map(|way| way.probability).sum();
            assert!(found.pin_outs.iter().all(|way| way.pins.len() == 8) && total < 1.001, "{total}");
            let ground: f64 = found
                .pin_outs
                .iter()
                .filter(|way| way.pins[&pin("4")] == "mod_ground")
                .map(|way| way.probability)
                .sum();
            assert!(count < 4 || ground > 0.3 * total, "{name} {count}: {ground} of {total}");
        }
    }
    let more = Options { further_unknown_pins: vec![UnknownPins::of("motor_connector")], ..one };
    assert!(Engine::new(&circuit, &Meter::default(), &more).unwrap().diagnose(&[]).is_err());
}
