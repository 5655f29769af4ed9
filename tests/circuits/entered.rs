//! Circuits entered from a diagram: made whole, diagnosed, and refused field by field.

use std::collections::BTreeMap;

use circuit::entered::Entered;
use circuit::{Circuit, FaultMode, Level, ProblemCode, check, solve};
use serde_json::{Value, json};

use crate::bench::{Bench, fault};

/// A pump behind a relay that a module grounds, as a technician would type it.
fn pump() -> Value {
    json!({
        "title": "Washer pump", "source": "diagram 12-3", "complaint": "Pump doesn't run", "works": "pump",
        "parts": [
            {"name": "battery", "from": "battery +", "to": "battery −", "kind": {"battery": {}}},
            {"name": "fuse 7", "from": "battery +", "to": "F7 out", "kind": {"fuse": {"amps": 15.0}}},
            {"name": "wire 1", "from": "F7 out", "to": "30", "kind": {"wire": {"length_m": 0.4, "size": {"mm2": 1.5}, "colour": ["RD"]}}},
            {"name": "wire 2", "from": "F7 out", "to": "86", "kind": {"wire": {"length_m": 0.4, "size": {"awg": 18}}}},
            {"name": "coil", "from": "86", "to": "85", "kind": {"relay_coil": {"relay": "pump relay"}}},
            {"name": "contact", "from": "30", "to": "87", "kind": {"relay_contact": {"relay": "pump relay"}}},
            {"name": "wire 3", "from": "87", "to": "pump +", "kind": {"wire": {"length_m": 3.0, "size": {"mm2": 1.5}, "colour": ["GN", "WH"]}}},
            {"name": "pump", "from": "pump +", "to": "pump −", "kind": {"motor": {"amps": 5.0}}},
            {"name": "wire 4", "from": "pump −", "to": "battery −", "kind": {"wire": {"length_m": 1.0, "size": {"mm2": 1.5}, "colour": ["BK"]}}},
            {"name": "wire 5", "from": "85", "to": "A4", "kind": {"wire": {"length_m": 2.0, "size": {"mm2": 0.5}, "colour": ["YE"]}}},
            {"name": "wire 6", "from": "battery +", "to": "A1", "kind": {"wire": {"length_m": 2.0, "size": {"mm2": 0.75}}}},
            {"name": "wire 7", "from": "A2", "to": "battery −", "kind": {"wire": {"length_m": 1.0, "size": {"mm2": 0.75}}}},
            {"name": "wire 8", "from": "A3", "to": "switch", "kind": {"wire": {"length_m": 1.0, "size": {"mm2": 0.5}}}},
            {"name": "washer switch", "from": "switch", "to": "battery −", "kind": {"switch": {"closed_by": "request"}}}
        ],
        "connectors": [{"name": "C1", "pins": [{"number": "1", "point": "A1"}, {"number": "4", "point": "A4", "colour": ["YE"]}]}],
        "module": {"name": "body module", "feed": "A1", "ground": "A2", "output": "A4", "drives": "ground",
                   "input": {"point": "A3", "asked_by": "ground"}}
    })
}

fn made(entry: &Value) -> Result<Circuit, Vec<circuit::Problem>> {
    Entered::from_json(&entry.to_string())?.into_circuit()
}

#[test]
fn an_entered_circuit_is_whole() {
    let circuit = made(&pump()).unwrap();
    let text = serde_json::to_string(&circuit).unwrap();
    assert_eq!(check::check(&text).unwrap(), circuit, "it reads back as a file and passes every check");
    let asked =
        BTreeMap::from([("key".to_owned(), "on".to_owned()), ("request".to_owned(), "on".to_owned())]);
    let solution = solve(&circuit, &asked, &[], None).unwrap();
    assert!(solution.working["coil"] && solution.working["module_driver"]);
    // By hand: 12.55 V over 2.48 ohm (battery 0.01, fuse 0.005, contact 0.005, 4.4 m of 1.5 mm² at 13.3 mohm/m, pump
    // 2.4) is 5.06 A, so that the pump keeps 12.14 V.
    let volts = |point: &str| match solution.points[point] {
        Level::Volts(volts) => volts,
        Level::Floating => f64::NAN,
    };
    let across = volts("pump") - volts("pump_2");
    assert!((across - 12.14).abs() < 0.02, "{across}");
    let places: std::collections::BTreeSet<(u64, u64)> =
        circuit.points.iter().map(|point| (point.x.to_bits(), point.y.to_bits())).collect();
    assert_eq!(places.len(), circuit.points.len(), "no two points lie on each other");
}

/// The module that switches it can be called, but only with its whole list.
#[test]
fn its_module_can_be_called_when_it_is_bad() {
    let circuit = made(&pump()).unwrap();
    let mut bench = Bench::new(&circuit, fault("module_driver", FaultMode::Dead, 0.0));
    let order = [
        "works",
        "battery_volts",
        "module_output_loaded",
        "module_feed",
        "module_ground",
        "module_input",
        "scan_request",
        "module_output_bypass",
        "module_connector_look",
        "module_harness",
        "scan_conditions_module",
        "scan_output_test_module",
        "module_feed",
        "module_ground",
        "module_output_loaded",
    ];
    for test in order {
        assert!(!bench.diagnosis().modules[0].may_be_called, "called before {test}");
        bench.take(test);
    }
    let diagnosis = bench.diagnosis();
    assert!(diagnosis.modules[0].may_be_called, "{:?} {:?}", diagnosis.modules[0], &diagnosis.causes[..3]);
}

/// Each wrong field is named by its path.
#[test]
fn wrong_fields_are_named() {
    let refused = |change: fn(&mut Value), place: &str, code: ProblemCode| {
        let mut entry = pump();
        change(&mut entry);
        let problems = made(&entry).unwrap_err();
        assert!(
            problems
                .iter()
                .any(|problem| problem.place == place && problem.code == code && !problem.remedy.is_empty()),
            "{place}: {problems:?}"
        );
    };
    refused(
        |e| e["parts"][2]["kind"]["wire"]["length_m"] = json!(0.0),
        "parts/2/kind/length_m",
        ProblemCode::Number,
    );
    refused(
        |e| e["parts"][3]["kind"]["wire"]["size"] = json!({"awg": 44}),
        "parts/3/kind/size",
        ProblemCode::Number,
    );
    refused(|e| e["parts"][1]["name"] = json!("battery"), "parts/1/name", ProblemCode::Name);
    refused(
        |e| e["parts"][5]["kind"]["relay_contact"]["relay"] = json!("other"),
        "parts/5/kind/relay",
        ProblemCode::NotListed,
    );
    refused(|e| e["works"] = json!("wire 1"), "works", ProblemCode::NotListed);
    refused(|e| e["module"]["feed"] = json!("nowhere"), "module/feed", ProblemCode::NotListed);
    refused(|e| e["parts"][0]["kind"] = json!({"fuse": {"amps": 5.0}}), "parts", ProblemCode::NoFeed);
    refused(|e| e["parts"][8]["to"] = json!("loose end"), "parts/7", ProblemCode::NoReturn);
    refused(|e| e["parts"][6]["from"] = json!("loose end"), "parts/7", ProblemCode::NoFeed);
    refused(|e| e["parts"][1]["to"] = json!("elsewhere"), "works", ProblemCode::HealthyFails);
    refused(|e| e["title"] = json!("x".repeat(4000)), "title", ProblemCode::Name);
}
