//! What the engine must not compute with is refused, with field and remedy; and no answer is ever without a number.

use circuit::check::check;
use circuit::{
    Accuracy, Circuit, CircuitError, ComponentKind, Diagnosis, Engine, LEAST_POINTS, Meter, Observation,
    ObservedValue, Options, ProblemCode, diagnose, library,
};

use crate::bench::Bench;
use crate::posterior::{reading, stories};

const GOOD: &str = include_str!("two_wires.json");

/// A battery, a driver, a lamp and a ground wire; `resistance` stands in the driver or beside it.
fn driven(driver: &str, beside: &str, load_from: &str, more_points: &str) -> Circuit {
    let text = format!(
        r#"{{"format":1,"id":"driven","version":1,"title":{{"en":"d","es":"d"}},"about":{{"en":"d","es":"d"}},
"complaint":{{"name":{{"en":"dark","es":"no luce"}},"test":"lit","answer":false}},"reference":"ground",
"points":[{{"id":"ground","name":{{"en":"g","es":"g"}},"x":0,"y":4,"reachable":true}},{{"id":"feed","name":{{"en":"f","es":"f"}},"x":0,"y":0,"reachable":true}},{more_points}{{"id":"lamp_in","name":{{"en":"i","es":"i"}},"x":3,"y":0,"reachable":true}},{{"id":"lamp_out","name":{{"en":"o","es":"o"}},"x":3,"y":4,"reachable":true}}],
"connectors":[],
"components":[
{{"id":"battery","name":{{"en":"b","es":"b"}},"kind":{{"battery":{{"positive":"feed","negative":"ground","volts":12.6,"volts_spread":0.1,"internal_ohms":0.02}}}}}},
{{"id":"driver","name":{{"en":"d","es":"d"}},"kind":{{"high_side_driver":{{"supply":"feed","output":"{load_from}","ground":"ground","limit_amps":20,"on_when":{{}},{driver},"faults":[{{"mode":"dead","odds":1,"basis":"judgement"}},{{"mode":"weak","min":0.5,"max":500,"odds":3,"basis":"judgement"}}]}},
{beside}
{{"id":"ground_wire","name":{{"en":"w","es":"w"}},"kind":{{"connection":{{"from":"lamp_out","to":"ground","ohms":0.05}}}},"faults":[{{"mode":"high_resistance","min":0.5,"max":5000,"odds":2,"basis":"judgement"}}]}},
{{"id":"lamp","name":{{"en":"l","es":"l"}},"kind":{{"resistor":{{"from":"lamp_in","to":"lamp_out","ohms":6}}}},"faults":[{{"mode":"open","odds":1,"basis":"judgement"}}]}}],
"variables":[],
"tests":[{{"id":"lit","name":{{"en":"l","es":"l"}},"mode":"yes_no","minutes":1,"question":{{"happening":{{"part_works":{{"component":"lamp","at_least_volts":7}}}},"miss":0.02,"false_alarm":0.02}}}}],
"unmodelled_odds":1,"sources":["a check, values invented"]}}"#
    );
    check(&text).unwrap_or_else(|problems| panic!("{problems:?}"))
}

/// A place or field, and what makes it impossible.
type Change<T> = (&'static str, fn(&mut T));

fn shares(found: &Diagnosis) -> Vec<(String, f64)> {
    let mut all: Vec<(String, f64)> =
        found.causes.iter().map(|cause| (cause.id.clone(), cause.probability)).collect();
    all.push(("unmodelled".to_owned(), found.unmodeled));
    all.sort_by(|left, right| left.0.cmp(&right.0));
    all
}

/// A tolerance on a driver is that of its on-resistance: the same as a bare driver with a resistor of that value and
/// tolerance behind it (Ohm's law, resistances in series).
#[test]
fn a_driver_may_have_a_tolerance() {
    let own = driven(r#""on_ohms":0.5}},"tolerance_percent":40"#, "", "lamp_in", "");
    let beside = driven(
        r#""on_ohms":1e-6}}"#,
        r#"{"id":"inside","name":{"en":"r","es":"r"},"kind":{"resistor":{"from":"inner","to":"lamp_in","ohms":0.499999}},"tolerance_percent":40,"faults":[]},"#,
        "inner",
        r#"{"id":"inner","name":{"en":"n","es":"n"},"x":2,"y":0,"reachable":false},"#,
    );
    for volts in [11.0, 11.4, 10.2, 5.0] {
        let seen = [reading("one", "lamp_in", "ground", volts, 1)];
        let ask =
            |circuit: &Circuit| diagnose(circuit, &Meter::default(), &seen, &Options::default()).unwrap();
        for (ours, theirs) in shares(&ask(&own)).iter().zip(shares(&ask(&beside))) {
            assert_eq!(ours.0, theirs.0);
            assert!(ours.1.is_finite() && (ours.1 - theirs.1).abs() < 1e-4, "{volts} V: {ours:?} {theirs:?}");
        }
    }
}

/// Parts of every circuit of the library with a tolerance: either the checker refuses it, or every probability is a
/// number. Those that must be refused are all tried; of the others one in five, in three with TESTIMETER_FULL=1.
#[test]
fn a_tolerance_on_any_part_is_used_or_refused() {
    let every = if std::env::var_os("TESTIMETER_FULL").is_some() { 3 } else { 5 };
    let mut number = 0;
    for circuit in library::all().unwrap() {
        for i in 0..circuit.components.len() {
            let mut changed = circuit.clone();
            changed.components[i].tolerance_percent = 10.0;
            let part = changed.components[i].id.clone();
            let pulsed = matches!(
                changed.components[i].kind,
                ComponentKind::HighSideDriver { duty: Some(_), .. }
                    | ComponentKind::LowSideDriver { duty: Some(_), .. }
            );
            let battery = matches!(changed.components[i].kind, ComponentKind::Battery { .. });
            number += 1;
            if !pulsed && !battery && number % every != 0 {
                continue;
            }
            let found = diagnose(&changed, &Meter::default(), &first_readings(&changed), &Options::default());
            match found {
                Ok(found) => {
                    assert!(!pulsed && !battery, "{}: {part} isn't refused", circuit.id);
                    let total: f64 = shares(&found).iter().map(|(_, share)| share).sum::<f64>()
                        + found.pairs.iter().map(|pair| pair.probability).sum::<f64>();
                    assert!((total - 1.0).abs() < 1e-3, "{}: {part}: {total}", circuit.id);
                }
                Err(error) => {
                    assert!(pulsed || battery, "{}: {part}: {error}", circuit.id);
                    assert!(error.to_string().contains("tolerance_percent"), "{error}");
                }
            }
        }
    }
}

/// What the first two readings within reach might show.
fn first_readings(circuit: &Circuit) -> Vec<Observation> {
    let readings = circuit.tests.iter().filter(|test| test.red.is_some() && test.limits.is_some()).take(2);
    let value = |test: &circuit::Test| {
        let limits = test.limits.as_ref().unwrap();
        ObservedValue::Number(limits.min.map_or_else(|| limits.max.unwrap() * 3.0, |min| min * 0.5))
    };
    readings.enumerate().map(|(i, test)| Observation::at(test, i.to_string(), value(test), 1)).collect()
}

/// A program that skips the checker hands over what no engine can compute with.
#[test]
fn circuits_the_checker_refuses_are_no_circuits_for_the_engine() {
    let sound = Circuit::from_json(GOOD).unwrap();
    let changes: [Change<Circuit>; 6] = [
        ("components/lamp", |c| c.components[3].tolerance_percent = f64::NAN),
        ("components/lamp", |c| c.components[3].kind = lamp(0.0)),
        ("components/lamp", |c| c.components[3].kind = lamp(1e-30)),
        ("tests/lit", |c| c.tests[0].minutes = f64::INFINITY),
        ("unmodelled_odds", |c| c.unmodeled_odds = 1e300),
        ("tests/lit", |c| c.complaint.answer = true),
    ];
    for (place, change) in changes {
        let mut circuit = sound.clone();
        change(&mut circuit);
        let (meter, options) = (Meter::default(), Options::default());
        for error in [
            Engine::new(&circuit, &meter, &options).err().unwrap(),
            diagnose(&circuit, &meter, &[], &options).unwrap_err(),
        ] {
            assert!(matches!(&error, CircuitError::Invalid { place: at, .. } if at == place), "{error}");
        }
    }
}

fn lamp(ohms: f64) -> ComponentKind {
    ComponentKind::Lamp { from: "lamp_in".to_owned(), to: "lamp_out".to_owned(), ohms, cold_ohms: None }
}

#[test]
fn meters_that_no_meter_is_are_refused_by_field() {
    let circuit = Circuit::from_json(GOOD).unwrap();
    let changes: [Change<Meter>; 10] = [
        ("volts_input_ohms", |m| m.volts_input_ohms = 0.0),
        ("volts_input_ohms", |m| m.volts_input_ohms = -10e6),
        ("volts_input_ohms", |m| m.volts_input_ohms = f64::NAN),
        ("low_impedance_ohms", |m| m.low_impedance_ohms = Some(0.0)),
        ("amps_input_ohms", |m| m.amps_input_ohms = 0.0),
        ("ohms_limit", |m| m.ohms_limit = f64::INFINITY),
        ("millivolts_limit", |m| m.millivolts_limit = 0.0),
        ("volts_accuracy", |m| m.volts_accuracy.percent = -0.5),
        ("ohms_accuracy", |m| m.ohms_accuracy = Accuracy { percent: 1.0, counts: 0.0, count_size: 0.1 }),
        ("duty_accuracy", |m| m.duty_accuracy.count_size = f64::NAN),
    ];
    for (field, change) in changes {
        let mut meter = Meter::default();
        change(&mut meter);
        let further = Options { meters: vec![meter.clone()], ..Options::default() };
        for error in [
            diagnose(&circuit, &meter, &[], &Options::default()).unwrap_err(),
            diagnose(&circuit, &Meter::default(), &[], &further).unwrap_err(),
        ] {
            let named = matches!(&error, CircuitError::Meter { field: named, .. } if *named == field);
            assert!(named && error.to_string().contains("write"), "{error}");
        }
    }
}

#[test]
fn options_out_of_range_are_refused_by_field() {
    let circuit = Circuit::from_json(GOOD).unwrap();
    let changes: [Change<Options>; 5] = [
        ("points_per_decade", |o| o.points_per_decade = 0),
        ("points_per_decade", |o| o.points_per_decade = LEAST_POINTS - 1),
        ("mis_probe", |o| o.mis_probe = f64::NAN),
        ("odds_weigh_jobs", |o| o.odds_weigh_jobs = f64::INFINITY),
        ("bench_cents_per_hour", |o| o.bench_cents_per_hour = Some(-1.0)),
    ];
    for (field, change) in changes {
        let mut options = Options::default();
        change(&mut options);
        let error = diagnose(&circuit, &Meter::default(), &[], &options).unwrap_err();
        assert!(matches!(&error, CircuitError::Option { field: named, .. } if *named == field), "{error}");
    }
}

/// The fewest points that are allowed are enough: eight times as many change no probability by more than 0.005.
#[test]
fn the_coarsest_grid_is_fine_enough() {
    for (id, hidden, tests) in stories() {
        let circuit = library::find(id).unwrap();
        let mut bench = Bench::new(&circuit, hidden);
        tests.iter().for_each(|test| {
            bench.take(test);
        });
        let at = |points_per_decade| {
            let options = Options { points_per_decade, ..Options::default() };
            shares(&diagnose(&circuit, &bench.meter, &bench.observations, &options).unwrap())
        };
        for (coarse, fine) in at(LEAST_POINTS).iter().zip(at(8 * LEAST_POINTS)) {
            assert!((coarse.1 - fine.1).abs() < 0.005, "{id}: {coarse:?} {fine:?}");
        }
    }
}

/// Characters that nobody sees: bell, right-to-left override, isolate, mark of byte order (Unicode Standard Annex 9; the
/// attack is known as "Trojan source", CVE-2021-42574).
#[test]
fn hidden_characters_are_refused_with_their_place() {
    for (from, to, place, line) in [
        (r#""en":"feed wire""#, r#""en":"feed \u202ewire""#, "components/feed_wire/name/en", 7),
        (r#""en":"Lamp is dark""#, r#""en":"Lamp \u0007is dark""#, "complaint/name/en", 2),
        (r#""es":"alimentación""#, "\"es\":\"alimentación\u{2067}\"", "points/feed/name/es", 3),
        ("values invented", "values\u{feff} invented", "sources/0", 12),
        (r#""version":1"#, r#""version":1"#, "", 0),
    ] {
        assert!(GOOD.contains(from), "{from}");
        let found = check(&GOOD.replacen(from, to, 1));
        if place.is_empty() {
            found.unwrap();
            continue;
        }
        let found = found.unwrap_err();
        let named = found.iter().any(|problem| {
            problem.code == ProblemCode::HiddenCharacter
                && problem.place == place
                && problem.line == Some(line)
        });
        assert!(named && found.iter().all(|problem| !problem.to_string().contains('\u{202e}')), "{found:?}");
    }
}

/// A circuit that a record froze before there were these rules still reads, and is weighed where nothing speaks against it.
#[test]
fn older_records_still_read() {
    let text = GOOD.replacen(r#""en":"feed wire""#, r#""en":"feed\twire""#, 1);
    let circuit = Circuit::from_json(&text).unwrap();
    diagnose(&circuit, &Meter::default(), &[], &Options::default()).unwrap();
    assert!(check(&text).is_err());
}
