//! Pins in doubt against plain enumeration: every order of five pins weighed one by one.

use std::collections::BTreeMap;

use crate::answer::options::Options;
use crate::answer::pin_out::UnknownPins;
use crate::call::engine::Engine;
use crate::file::layout::{Circuit, Connector};
use crate::file::meter::Meter;
use crate::file::observation::{MeasureMode, Observation, ObservedValue, Present, State};
use crate::library;
use crate::weigh::posterior::log_sum;

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

fn orders(count: usize) -> Vec<Vec<usize>> {
    let longer = |all: Vec<Vec<usize>>, _| {
        let one = |order: &Vec<usize>| {
            let left = (0..count).filter(|i| !order.contains(i));
            left.map(|i| order.iter().copied().chain([i]).collect()).collect::<Vec<Vec<usize>>>()
        };
        all.iter().flat_map(one).collect()
    };
    (0..count).fold(vec![Vec::new()], longer)
}

/// Probability of each pin carrying each point, and of each cause, by enumeration of every order.
fn enumerated(
    circuit: &Circuit,
    connector: &Connector,
    unknown: &UnknownPins,
    seen: &[Observation],
) -> (BTreeMap<(String, String), f64>, BTreeMap<String, f64>) {
    let engine = Engine::new(circuit, &Meter::default(), &Options::default()).unwrap();
    let others = f64::from(u32::try_from(connector.pins.len()).unwrap()) - 1.0;
    let mut all = Vec::new();
    for order in orders(connector.pins.len()) {
        let mut prior = 1.0;
        let mut carries = BTreeMap::new();
        for (pin, carried) in connector.pins.iter().zip(order.iter().map(|i| &connector.pins[*i])) {
            let same = pin.number == carried.number;
            prior *= if same { 1.0 - unknown.diagram_error } else { unknown.diagram_error / others };
            if let Some(color) = unknown.colors_seen.get(&pin.number) {
                let off = unknown.color_error;
                prior *= if *color == carried.color { 1.0 - off } else { off / others };
            }
            carries.insert(pin.number.clone(), carried.point.clone());
        }
        let at_points: Vec<Observation> = seen
            .iter()
            .map(|one| Observation {
                red: one.red_pin.as_ref().map(|pin| carries[pin].clone()),
                red_pin: None,
                ..one.clone()
            })
            .collect();
        let weighed = engine.weigh(&engine.model, &at_points, &Options::default(), None).unwrap();
        all.push((prior.ln() + weighed.posterior.log_total, carries, weighed));
    }
    let total = log_sum(all.iter().map(|(log, ..)| *log));
    let (mut pins, mut causes) = (BTreeMap::new(), BTreeMap::new());
    for (log, carries, weighed) in &all {
        let share = (log - total).exp();
        for (pin, point) in carries {
            *pins.entry((pin.clone(), point.clone())).or_insert(0.0) += share;
        }
        for (cause, of_cause) in
            weighed.model.causes.iter().zip(weighed.posterior.shares(weighed.model.causes.len()))
        {
            *causes.entry(cause.id.clone()).or_insert(0.0) += share * of_cause;
        }
    }
    (pins, causes)
}

#[test]
fn five_pins_as_enumerated() {
    let circuit = library::find("sensor_three_wire").unwrap();
    let connector = circuit.connectors.iter().find(|one| one.pins.len() == 5).unwrap().clone();
    let on = [("key", "on")];
    let color = |pin: usize| connector.pins[pin].color.clone();
    let plain = UnknownPins { diagram_error: 0.4, ..UnknownPins::of(&connector.id) };
    let colored = UnknownPins {
        colors_seen: BTreeMap::from([("4".to_owned(), color(4)), ("1".to_owned(), color(0))]),
        ..plain.clone()
    };
    let cases: [(&UnknownPins, Vec<Observation>); 4] = [
        (&plain, vec![at_pin(1, "3", 0.02, &on)]),
        (&plain, vec![at_pin(1, "3", 4.98, &on), at_pin(2, "5", 1.97, &on)]),
        (&colored, vec![at_pin(1, "3", 4.98, &on), at_pin(2, "4", 0.01, &on), at_pin(3, "1", 12.4, &on)]),
        (
            &plain,
            ["1", "2", "3", "4", "5"]
                .iter()
                .zip([12.4, 0.02, 5.0, 1.4, 0.03])
                .enumerate()
                .map(|(i, (pin, volts))| at_pin(i + 1, pin, volts, &on))
                .collect(),
        ),
    ];
    for (unknown, seen) in cases {
        let plain = Options { look_alikes: 0.0, ..Options::default() };
        let options = Options { unknown_pins: Some(unknown.clone()), ..plain };
        let engine = Engine::new(&circuit, &Meter::default(), &options).unwrap();
        let found = engine.diagnose(&seen).unwrap();
        let (pins, causes) = enumerated(&circuit, &connector, unknown, &seen);
        let total: f64 = found.pin_outs.iter().map(|way| way.probability).sum();
        for ((pin, point), exact) in &pins {
            let ways = found.pin_outs.iter().filter(|way| way.pins[pin] == *point);
            let ours: f64 = ways.map(|way| way.probability).sum();
            // Ways below 0.001 aren't listed.
            assert!((ours - exact).abs() < 0.005 + (1.0 - total), "{pin} {point}: {ours} {exact} ({total})");
        }
        if found.pairs.is_empty() {
            for cause in &found.causes {
                let exact = causes[&cause.id];
                assert!(
                    (cause.probability - exact).abs() < 0.005,
                    "{}: {} {exact}",
                    cause.id,
                    cause.probability
                );
            }
        }
    }
}
