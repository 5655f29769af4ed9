//! The posterior against plain enumeration, written here without the engine's parts, and against a finer grid.

use std::collections::BTreeMap;

use circuit::{
    Circuit, Fault, FaultMode, Level, MeasureMode, Meter, Observation, ObservedValue, Options, Present,
    diagnose, library, solve,
};

use crate::bench::{Bench, fault};

/// Two wires and a lamp: few enough causes to enumerate by hand. Severities are put on the same eight cells per decade.
fn two_wires() -> Circuit {
    Circuit::from_json(include_str!("two_wires.json")).unwrap()
}

fn reading(id: &str, red: &str, black: &str, volts: f64, placement: u32) -> Observation {
    Observation {
        id: id.to_owned(),
        test: None,
        mode: MeasureMode::VoltsDc,
        red: Some(red.to_owned()),
        black: Some(black.to_owned()),
        value: ObservedValue::Number(volts),
        state: BTreeMap::new(),
        load: None,
        complaint: Present::Yes,
        placement,
        ..Observation::default()
    }
}

#[test]
fn equals_enumeration() {
    let circuit = two_wires();
    let options = Options { points_per_decade: 8, ..Options::default() };
    let cases: [&[(&str, &str, f64)]; 4] = [
        &[],
        &[("lamp_in", "ground", 4.2)],
        &[("lamp_in", "ground", 4.2), ("lamp_out", "ground", 0.0)],
        &[("lamp_in", "ground", 12.53), ("lamp_out", "ground", 9.11), ("lamp_in", "lamp_out", 3.43)],
    ];
    for case in cases {
        let seen: Vec<Observation> = case
            .iter()
            .enumerate()
            .map(|(i, (red, black, volts))| reading(&i.to_string(), red, black, *volts, 1))
            .collect();
        let ours = diagnose(&circuit, &Meter::default(), &seen, &options).unwrap();
        assert!(ours.pairs.is_empty(), "this check has no pairs");
        let exact = enumerate(&circuit, case);
        for cause in &ours.causes {
            let reference = exact[&cause.id];
            assert!(
                (cause.probability - reference).abs() < 1e-6,
                "{}: {} {reference}",
                cause.id,
                cause.probability
            );
        }
        let (unmodelled, reference) = (ours.unmodelled, exact["unmodelled"]);
        assert!((unmodelled - reference).abs() < 1e-6, "unmodelled: {unmodelled} {reference}");
    }
}

/// Bayes' rule, spelled out. Parts: battery 12.6 V behind 0.02 ohm (no tolerance is set in the file but the battery's
/// 0.1 V), wires 0.05 ohm, lamp 6 ohm. The formulas of the ring are written out below.
fn enumerate(circuit: &Circuit, readings: &[(&str, &str, f64)]) -> BTreeMap<String, f64> {
    let mut weights = BTreeMap::new();
    let lit = |volts: f64| if volts >= 8.0 { 0.02 } else { 0.98 };
    let grid = |min: f64, max: f64| -> Vec<f64> {
        let cells = (8.0 * (max / min).log10()).ceil();
        (0..1000)
            .map(f64::from)
            .take_while(|i| *i < cells)
            .map(|i| min * (max / min).powf((i + 0.5) / cells))
            .collect()
    };
    for (name, odds, added) in [
        ("feed_wire/high_resistance", 3.0, grid(0.5, 5000.0)),
        ("feed_wire/open", 1.0, vec![f64::INFINITY]),
        ("ground_wire/high_resistance", 2.0, grid(0.5, 5000.0)),
        ("ground_wire/open", 1.0, vec![f64::INFINITY]),
        ("lamp/open", 4.0, vec![f64::INFINITY]),
    ] {
        let mut sum = 0.0;
        for extra in &added {
            let mut product = 1.0;
            let lamp =
                if name == "lamp/open" { 0.0 } else { series(name, *extra, "lamp_in", "lamp_out", 12.6) };
            product *= lit(lamp);
            for (red, black, seen) in readings {
                let mean = metered(name, *extra, red, black, 12.6);
                let per_volt = metered(name, *extra, red, black, 13.6) - mean;
                let meter = (0.005 * mean.abs() + 0.02) / 1.96;
                let sigma = meter.hypot(per_volt * 0.1);
                let bell =
                    (-0.5 * ((seen - mean) / sigma).powi(2)).exp() / (sigma * std::f64::consts::TAU.sqrt());
                product *= 0.98 * bell + 0.02 / 15.0;
            }
            sum += product;
        }
        weights.insert(name.to_owned(), odds * sum / f64::from(u32::try_from(added.len()).unwrap()));
    }
    let flat = 0.5 * (1.0_f64 / 15.0).powi(i32::try_from(readings.len()).unwrap());
    weights.insert("unmodelled".to_owned(), circuit.unmodelled_odds * flat);
    let total: f64 = weights.values().sum();
    weights.values_mut().for_each(|weight| *weight /= total);
    weights
}

/// What a 10 Mohm meter shows between two points of the ring battery – feed wire – lamp – ground wire: it makes one
/// arc of the ring a parallel pair.
fn metered(name: &str, extra: f64, red: &str, black: &str, emf: f64) -> f64 {
    let open = series(name, extra, red, black, emf);
    let [source, feed, lamp, ground] = ring(name, extra);
    let (near, far) = match (red, black) {
        ("lamp_in", "ground") => (lamp + ground, source + feed),
        ("lamp_out", "ground") => (ground, source + feed + lamp),
        _ => (lamp, source + feed + ground),
    };
    let inside = 1.0 / (1.0 / near + 1.0 / far);
    open * 1e7 / (1e7 + inside)
}

/// Volts between two points without a meter.
fn series(name: &str, extra: f64, red: &str, black: &str, emf: f64) -> f64 {
    let at = |point: &str| {
        let [source, feed, lamp, ground] = ring(name, extra);
        let amps = emf / (source + feed + lamp + ground);
        match point {
            "lamp_in" if feed.is_infinite() => 0.0,
            "lamp_in" => emf - amps * (source + feed),
            "lamp_out" if ground.is_infinite() => emf,
            "lamp_out" => amps * ground,
            _ => 0.0,
        }
    };
    at(red) - at(black)
}

fn ring(name: &str, extra: f64) -> [f64; 4] {
    let (mut feed, mut lamp, mut ground) = (0.05, 6.0, 0.05);
    match name.split('/').next().unwrap() {
        "feed_wire" => feed += extra,
        "ground_wire" => ground += extra,
        _ => lamp += extra,
    }
    [0.02, feed, lamp, ground]
}

#[test]
fn doubling_the_grid_changes_nothing() {
    for (id, hidden, tests) in stories() {
        let circuit = library::find(id).unwrap();
        let mut bench = Bench::new(&circuit, hidden);
        for test in tests {
            bench.take(test);
            let at = |points_per_decade| {
                let options = Options { points_per_decade, ..Options::default() };
                let diagnosis = diagnose(&circuit, &bench.meter, &bench.observations, &options).unwrap();
                diagnosis
                    .causes
                    .into_iter()
                    .map(|cause| (cause.id, cause.probability))
                    .collect::<BTreeMap<_, _>>()
            };
            let (normal, fine) =
                (at(Options::default().points_per_decade), at(2 * Options::default().points_per_decade));
            for (cause, probability) in &normal {
                let change = (probability - fine[cause]).abs();
                assert!(change < 0.005, "{id} after {test}: {cause} changes by {change}");
            }
        }
    }
}

#[test]
fn order_of_readings_plays_no_part() {
    for (id, hidden, tests) in stories() {
        let circuit = library::find(id).unwrap();
        let mut bench = Bench::new(&circuit, hidden);
        tests.iter().for_each(|test| {
            bench.take(test);
        });
        let forward = bench.diagnosis();
        bench.observations.reverse();
        let backward = bench.diagnosis();
        for cause in &forward.causes {
            let other = backward.causes.iter().find(|other| other.id == cause.id).unwrap();
            assert!((cause.probability - other.probability).abs() < 1e-9, "{}", cause.id);
        }
    }
}

type Story = (&'static str, Fault, &'static [&'static str]);

fn stories() -> Vec<Story> {
    vec![
        (
            "relay_high_side",
            fault("wire_control", FaultMode::HighResistance, 150.0),
            &["fan_runs", "battery_volts", "control_open", "control_loaded", "module_output_loaded"],
        ),
        (
            "relay_high_side",
            fault("wire_85", FaultMode::HighResistance, 90.0),
            &["control_loaded", "ground_85"],
        ),
        (
            "relay_low_side",
            fault("driver", FaultMode::Weak, 300.0),
            &["control_loaded", "module_output_loaded"],
        ),
        (
            "starter_power",
            fault("clamp_negative", FaultMode::HighResistance, 0.03),
            &["battery_cranking", "ground_drop"],
        ),
    ]
}

/// A relay on the bench has no path to the battery: a named result, not an error.
#[test]
fn an_open_part_floats_by_name() {
    let circuit = library::find("relay_high_side").unwrap();
    let out = BTreeMap::from([("relay".to_owned(), "removed".to_owned())]);
    let solution = solve(&circuit, &out, &[fault("driver", FaultMode::Dead, 0.0)], None).unwrap();
    assert_eq!(solution.points["c86"], Level::Floating);
    assert_eq!(solution.points["s86"], Level::Floating);
}
