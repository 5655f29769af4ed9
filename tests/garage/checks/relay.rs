//! Relay control side against `relay_control.csv` of the reference checks: ngspice's volts for a netlist written by hand.

use super::*;

/// Relay in (10 Mohm), relay out (10 Mohm), out (3 kohm), out (75 ohm load), module output, 85, module supply.
type Row = (&'static str, [f64; 7]);

const ROWS: [Row; 9] = [
    ("healthy", [12.3739, 12.4447, 12.4429, 12.3738, 12.3986, 0.0049, 12.4316]),
    ("control wire", [4.0879, 12.4445, 11.8394, 4.0868, 12.4295, 0.0016, 12.4404]),
    ("driver weak", [4.0870, 12.4445, 11.8392, 4.0859, 4.0952, 0.0016, 12.4404]),
    ("module feed", [4.0886, 4.7186, 4.7005, 4.0884, 4.0968, 0.0016, 4.1077]),
    ("battery", [4.1081, 4.1316, 4.1311, 4.1081, 4.1163, 0.0016, 4.1273]),
    ("85 ground", [12.4213, 12.4447, 12.4429, 12.3738, 12.4295, 8.3354, 12.4404]),
    ("control wire nearly open", [0.0000, 4.0802, 0.0018, 0.0000, 12.4447, 0.0000, 12.4447]),
    ("driver off with bias", [0.0462, 4.0833, 1.2823, 0.0462, 0.0463, 0.0000, 12.4447]),
    ("control wire open", [0.0000, 0.0001, 0.0000, 0.0000, 12.4447, 0.0000, 12.4447]),
];

fn relay(bias: bool) -> Circuit {
    let joint = |id: &str, from: &str, to: &str, ohms: f64| {
        part(id, &serde_json::json!({"connection": {"from": from, "to": to, "ohms": ohms}}))
    };
    let bias = |ohms: f64| if bias { serde_json::json!(ohms) } else { serde_json::Value::Null };
    let mut coil = part(
        "coil",
        &serde_json::json!({"coil": {"from": "p86", "to": "p85", "ohms": 75, "pull_in_volts": 7,
            "drop_out_volts": 1.5}}),
    );
    coil["present_when"] = serde_json::json!({"relay": ["in"]});
    let mut load = part("load", &serde_json::json!({"resistor": {"from": "p86", "to": "0v", "ohms": 75}}));
    load["present_when"] = serde_json::json!({"load": ["yes"]});
    circuit_of(
        &["0v", "bat", "ms", "mg", "eo", "p86", "p85"],
        &serde_json::json!([
            part(
                "battery",
                &serde_json::json!({"battery": {"positive": "bat", "negative": "0v", "volts": 12.5,
                "volts_spread": 0.1, "internal_ohms": 1e-6}})
            ),
            joint("feed", "bat", "ms", 0.08),
            joint("module_ground", "mg", "0v", 0.01),
            part("draw", &serde_json::json!({"supply_load": {"from": "ms", "to": "mg", "ohms": 18}})),
            part(
                "driver",
                &serde_json::json!({"high_side_driver": {"supply": "ms", "output": "eo", "ground": "mg",
                "on_ohms": 0.2, "limit_amps": 5, "on_when": {}, "off_pull_up_ohms": bias(20e3),
                "off_pull_down_ohms": bias(9.76e3)}})
            ),
            joint("control", "eo", "p86", 0.15),
            joint("ground", "p85", "0v", 0.03),
            coil,
            load,
        ]),
    )
}

fn edits(cause: &str) -> Vec<Edit> {
    let series = |part: &str, ohms: f64| vec![Edit::Series { part: part.to_owned(), ohms }];
    match cause {
        "control wire" => series("control", 152.95),
        "driver weak" => vec![Edit::Weak { part: "driver".to_owned(), ohms: 153.0 }],
        "module feed" => series("feed", 29.62),
        "battery" => vec![Edit::Volts { part: "battery".to_owned(), volts: 4.15 }],
        "85 ground" => series("ground", 152.97),
        "control wire nearly open" => series("control", 20.5e6),
        "driver off with bias" => vec![Edit::NotCommanded("driver".to_owned())],
        "control wire open" => vec![Edit::Open("control".to_owned())],
        _ => Vec::new(),
    }
}

#[test]
fn the_relay_side_shows_what_the_reference_netlist_shows() {
    for (cause, expected) in ROWS {
        let circuit = relay(cause == "driver off with bias");
        let mut bench = bench(&circuit, &edits(cause));
        let (fitted, out) = (state(&[]), state(&[("relay", "out")]));
        let loaded = state(&[("relay", "out"), ("load", "yes")]);
        let found = [
            volts(&mut bench, &fitted, "p86", 10e6),
            volts(&mut bench, &out, "p86", 10e6),
            volts(&mut bench, &out, "p86", 3e3),
            volts(&mut bench, &loaded, "p86", 10e6),
            volts(&mut bench, &fitted, "eo", 1e9),
            volts(&mut bench, &fitted, "p85", 1e9),
            volts(&mut bench, &fitted, "ms", 1e9),
        ];
        for (place, (found, expected)) in found.into_iter().zip(expected).enumerate() {
            near(&format!("{cause}, column {place}"), found, expected, 2e-3);
        }
    }
}

#[test]
fn series_resistance_keeps_a_coil_from_pulling_in() {
    // 75 ohm behind R at 12.5 V: 7 V across the coil needs R below 75·(12.5/7 − 1) = 58.9 ohm, less what is there anyway.
    for (ohms, pulls) in [(50.0, true), (57.0, true), (61.0, false), (200.0, false)] {
        let mut bench = bench(&relay(false), &[Edit::Series { part: "ground".to_owned(), ohms }]);
        let settled = bench.settle(&state(&[]), None, &Meter::None).unwrap();
        assert_eq!(settled.stages[7] == super::super::moment::Stage::Active, pulls, "{ohms} ohm");
    }
}
