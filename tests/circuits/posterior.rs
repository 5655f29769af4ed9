//! The posterior against plain enumeration, written here without the engine's parts, and against a finer grid.

use std::collections::BTreeMap;

use circuit::{
    Circuit, Fault, FaultMode, Level, MeasureMode, Meter, Observation, ObservedValue, Options, Present,
    diagnose, library, solve,
};

use crate::bench::{Bench, fault};

/// Two wires and a lamp: few enough causes to enumerate by hand.
fn two_wires() -> Circuit {
    Circuit::from_json(include_str!("two_wires.json")).unwrap()
}

pub fn reading(id: &str, red: &str, black: &str, volts: f64, placement: u32) -> Observation {
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
    let options = Options { points_per_decade: 960, look_alikes: 0.0, ..Options::default() };
    let cases: [&[(&str, &str, f64)]; 4] = [
        &[],
        &[("lamp_in", "ground", 4.2)],
        &[("lamp_in", "ground", 4.2), ("lamp_out", "ground", 0.03)],
        &[("lamp_in", "ground", 12.53), ("lamp_out", "ground", 9.11), ("lamp_in", "lamp_out", 3.43)],
    ];
    for case in cases {
        let seen: Vec<Observation> = case
            .iter()
            .enumerate()
            .map(|(i, (red, black, volts))| reading(&i.to_string(), red, black, *volts, 1))
            .collect();
        let ours = diagnose(&circuit, &Meter::default(), &seen, &options).unwrap();
        assert!(ours.pairs.is_empty(), "{case:?}: this check has no pairs: {:?}", ours.pairs);
        let exact = enumerate(&circuit, case, 1);
        for cause in &ours.causes {
            let (probability, reference) = (cause.probability, exact[&cause.id]);
            let off = (probability - reference).abs();
            assert!(off < 1e-6, "{case:?} {}: {probability} {reference}, off by {off}", cause.id);
        }
        let off = (ours.unmodeled - exact["unmodelled"]).abs();
        assert!(off < 1e-6, "unmodelled: {} {}", ours.unmodeled, exact["unmodelled"]);
    }
}

/// Bayes' rule, spelled out over severity and what readings share. Parts: battery 12.6 V behind 0.02 ohm (no tolerance
/// is set in the file but the battery's 0.1 V), wires 0.05 ohm, lamp 6 ohm; the formulas of the ring are written out
/// below. Meter ±(0.5 % + 0.02 V): the percent is a gain all readings share. The lamp lights from 8 V on.
fn enumerate(circuit: &Circuit, readings: &[(&str, &str, f64)], answers: i32) -> BTreeMap<String, f64> {
    let lights_up_to: f64 = 12.6 * 6.0 / 8.0 - 6.12;
    // 4 % of such faults lie below the file's range, and 4 % above it, down to and up to 30 times.
    let stretches = [(0.5 / 30.0, 0.5, 0.04), (0.5, 5000.0, 0.92), (5000.0, 5000.0 * 30.0, 0.04)];
    let mut weights = BTreeMap::new();
    for (name, odds, open) in [
        ("feed_wire/high_resistance", 3.0, false),
        ("feed_wire/open", 1.0, true),
        ("ground_wire/high_resistance", 2.0, false),
        ("ground_wire/open", 1.0, true),
        ("lamp/open", 4.0, true),
    ] {
        let mut sum = 0.0;
        if open {
            sum = likelihood(name, f64::INFINITY, readings, answers);
        } else {
            for (from, to, all) in stretches {
                // The lamp lights up to a severity inside one of them.
                let edge = lights_up_to.clamp(from, to);
                for (min, max) in [(from, edge), (edge, to)].into_iter().filter(|(min, max)| min < max) {
                    let share = all * f64::ln(max / min) / f64::ln(to / from);
                    let cells = 4000;
                    for i in 0..cells {
                        let extra: f64 = min * (max / min).powf((f64::from(i) + 0.5) / f64::from(cells));
                        sum += share / f64::from(cells) * likelihood(name, extra, readings, answers);
                    }
                }
            }
        }
        weights.insert(name.to_owned(), odds * sum);
    }
    // Outside the circuit: each reading as in a healthy circuit, or anything, half and half. A healthy lamp lights; what it
    // does is as in a healthy circuit whenever somebody looks, or anything.
    let outside = |(red, black, seen): &(&str, &str, f64)| {
        let healthy = metered("healthy", 0.0, red, black, 12.6);
        let sigma = ((0.005 * healthy.abs() + 0.02) / 1.96).hypot(healthy * 0.1 / 12.6);
        0.5 * (0.98 * bell(seen - healthy, sigma) + 0.02 * anything(*seen)) + 0.5 * anything(*seen)
    };
    let answered = 0.5 * alike(0.02, answers) + 0.5 * alike(0.5, answers);
    let flat = answered * readings.iter().map(outside).product::<f64>();
    weights.insert("unmodelled".to_owned(), circuit.unmodeled_odds * flat);
    let total: f64 = weights.values().sum();
    weights.values_mut().for_each(|weight| *weight /= total);
    weights
}

/// Chance of so many answers that are all alike, each of which has this chance: half of them stand whenever the same is asked, so
/// that all of them are as good as one.
fn alike(chance: f64, answers: i32) -> f64 {
    if answers == 0 { 1.0 } else { 0.5 * chance + 0.5 * chance.powi(answers) }
}

/// Who saw no light and looks again sees none again, rightly or wrongly.
#[test]
fn looking_again_says_less_than_looking() {
    let circuit = two_wires();
    let options = Options { points_per_decade: 960, look_alikes: 0.0, ..Options::default() };
    let complaint = circuit.tests.iter().find(|test| test.id == circuit.complaint.test).unwrap();
    for answers in 1..=3 {
        let seen: Vec<Observation> = (1..=answers)
            .map(|i| Observation::at(complaint, i.to_string(), ObservedValue::No, u32::try_from(i).unwrap()))
            .collect();
        let ours = diagnose(&circuit, &Meter::default(), &seen, &options).unwrap();
        let exact = enumerate(&circuit, &[], answers);
        for cause in &ours.causes {
            let off = (cause.probability - exact[&cause.id]).abs();
            assert!(off < 1e-6, "{answers} {}: {} {}", cause.id, cause.probability, exact[&cause.id]);
        }
        assert!((ours.unmodeled - exact["unmodelled"]).abs() < 1e-6, "{answers}: {}", ours.unmodeled);
    }
}

/// Battery and gain both scale every reading, so together they are one unknown scale: normal, with a wider tenth for
/// batteries that lie far off.
fn likelihood(name: &str, extra: f64, readings: &[(&str, &str, f64)], answers: i32) -> f64 {
    let lamp = if name == "lamp/open" { 0.0 } else { series(name, extra, "lamp_in", "lamp_out", 12.6) };
    let answer = alike(if lamp >= 8.0 { 0.02 } else { 0.98 }, answers);
    let means: Vec<f64> =
        readings.iter().map(|(red, black, _)| metered(name, extra, red, black, 12.6)).collect();
    let gain = 0.005 / 1.96;
    let step = 2.5e-4;
    let mut sum = 0.0;
    for i in -640..=640 {
        let scale = f64::from(i) * step;
        let prior: f64 = [(0.9, 0.1 / 12.6), (0.1, 0.3 / 12.6)]
            .map(|(share, battery): (f64, f64)| share * bell(scale, battery.hypot(gain)))
            .iter()
            .sum();
        let product: f64 = readings
            .iter()
            .zip(&means)
            .map(|((_, _, seen), mean)| {
                let (percent, counts) = (0.005 * mean.abs() / 1.96, 0.02 / 1.96);
                let rest = ((percent + counts).powi(2) - percent.powi(2)).sqrt();
                0.98 * bell(seen - mean * (1.0 + scale), rest) + 0.02 * anything(*seen)
            })
            .product();
        sum += prior * product * step;
    }
    answer * sum
}

/// What a lead on a wrong point shows: nothing, the battery's 12.6 V, or anything.
pub fn anything(seen: f64) -> f64 {
    0.45 / 15.0 + 0.35 * bell(seen, 0.02) + 0.2 * bell(seen - 12.6, 0.3)
}

pub fn bell(off: f64, sigma: f64) -> f64 {
    (-0.5 * (off / sigma).powi(2)).exp() / (sigma * std::f64::consts::TAU.sqrt())
}

/// What a 10 Mohm meter shows between two points of the ring battery – feed wire – lamp – ground wire: it makes one
/// arc of the ring a parallel pair.
pub fn metered(name: &str, extra: f64, red: &str, black: &str, emf: f64) -> f64 {
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
pub fn series(name: &str, extra: f64, red: &str, black: &str, emf: f64) -> f64 {
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
        "lamp" => lamp += extra,
        _ => {}
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
                let options = Options { points_per_decade, look_alikes: 0.0, ..Options::default() };
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
            let off = (cause.probability - other.probability).abs();
            assert!(off < 1e-9, "{}: off by {off}", cause.id);
        }
    }
}

type Story = (&'static str, Fault, &'static [&'static str]);

pub fn stories() -> Vec<Story> {
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

/// Many placements of one reading are weighed by their five-number summary (Tukey, Exploratory Data Analysis, 1977), in
/// whatever order they were taken; up to five are weighed as they are.
#[test]
fn five_placements_stand_for_many() {
    let circuit = two_wires();
    let volts: Vec<f64> = (0..13).map(|i| 9.0 + f64::from(i * 7 % 13) * 0.01).collect();
    let weighed = |some: &[f64]| {
        let seen: Vec<Observation> =
            (1..).zip(some).map(|(i, v)| reading(&i.to_string(), "lamp_in", "ground", *v, i)).collect();
        let found =
            diagnose(&circuit, &Meter::default(), &seen, &Options { look_alikes: 0.0, ..Options::default() })
                .unwrap();
        let shares: BTreeMap<String, f64> = found.causes.into_iter().map(|c| (c.id, c.probability)).collect();
        assert_eq!(found.expected.len(), some.len(), "what to expect is said of every reading");
        shares
    };
    let same = |left: &[f64], right: &[f64]| {
        let (left, right) = (weighed(left), weighed(right));
        left.iter().all(|(id, share)| (share - right[id]).abs() < 1e-9)
    };
    let mut sorted = volts.clone();
    sorted.sort_by(f64::total_cmp);
    let five: Vec<f64> = [0, 3, 6, 9, 12].into_iter().map(|place| sorted[place]).collect();
    assert!(same(&volts, &five));
    assert!(same(&volts, &sorted));
    assert!(!same(&five, &five[..4]), "five are weighed as they are");
    // One that went astray among many stays one.
    let astray: Vec<f64> = volts.iter().copied().chain([0.1]).collect();
    assert!(weighed(&astray)["lamp/open"] < 0.5);
}
