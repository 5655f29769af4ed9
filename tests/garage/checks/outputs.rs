//! Outputs that are withheld, that nothing switches on, that leak, and that a scan tool commands.

use super::*;

/// 12 V at `ms`, a high side of 0.1 ohm with 20 kohm up and 10 kohm down, 100 ohm at its output. It is asked for by
/// `load`, and wants 5 V at `input`, which stands at nothing when the relay is out.
fn output() -> Circuit {
    let mut input =
        part("input_feed", &serde_json::json!({"resistor": {"from": "ms", "to": "input", "ohms": 1.0}}));
    input["present_when"] = serde_json::json!({"relay": ["in"]});
    circuit_of(
        &["0v", "ms", "out", "input"],
        &serde_json::json!([
            part(
                "battery",
                &serde_json::json!({"battery": {"positive": "ms", "negative": "0v", "volts": 12.0,
                "volts_spread": 0.1, "internal_ohms": 1e-6}})
            ),
            input,
            part("input_load", &serde_json::json!({"resistor": {"from": "input", "to": "0v", "ohms": 1e3}})),
            part(
                "driver",
                &serde_json::json!({"high_side_driver": {"supply": "ms", "output": "out", "ground": "0v",
                "on_ohms": 0.1, "limit_amps": 5, "on_when": {"load": ["yes"]},
                "needs": [{"red": "ms", "black": "0v", "at_least": 8.0}, {"red": "input", "black": "0v", "at_least": 5.0}],
                "forced_when": {"scan_tool": ["output_test"]},
                "off_pull_up_ohms": 20e3, "off_pull_down_ohms": 10e3}})
            ),
            part("coil", &serde_json::json!({"resistor": {"from": "out", "to": "0v", "ohms": 100.0}})),
        ]),
    )
}

/// 12 V over these ohm to a load of 100 ohm beside the 10 kohm of the bias.
fn behind(ohms: f64) -> f64 {
    let load = 1.0 / (1.0 / 100.0 + 1.0 / 10e3 + 1.0 / 10e6);
    12.0 * load / (load + ohms)
}

#[test]
fn a_scan_tool_commands_what_is_withheld_and_not_what_is_broken() {
    let id = || "driver".to_owned();
    let both = |one: f64, other: f64| 1.0 / (1.0 / one + 1.0 / other);
    let on = behind(both(0.1, 20e3));
    let off = behind(20e3);
    let none = 0.0;
    // Asked for by its module, commanded by the scan tool, asked for by nobody.
    for (edit, asked, forced, rest) in [
        (None, on, on, off),
        (Some(Edit::NotCommanded(id())), off, on, off),
        (Some(Edit::Unresponsive(id())), off, off, off),
        (Some(Edit::Dead(id())), none, none, none),
        (
            Some(Edit::Leaks { part: id(), ohms: 400.0 }),
            behind(both(400.0, 20e3)),
            behind(both(400.0, 20e3)),
            behind(both(400.0, 20e3)),
        ),
    ] {
        let edits: Vec<Edit> = edit.into_iter().collect();
        let mut bench = bench(&output(), &edits);
        for (what, pairs, expected) in [
            ("asked", vec![("load", "yes")], asked),
            ("forced", vec![("scan_tool", "output_test")], forced),
            ("both", vec![("load", "yes"), ("scan_tool", "output_test")], forced),
            ("rest", vec![], rest),
        ] {
            near(
                &format!("{edits:?}, {what}"),
                volts(&mut bench, &state(&pairs), "out", 10e6),
                expected,
                2e-3,
            );
        }
    }
}

#[test]
fn a_scan_tool_asks_no_input_but_wants_the_supply() {
    let bench_of = |edits: &[Edit], pairs: &[(&str, &str)]| {
        volts(&mut bench(&output(), edits), &state(pairs), "out", 10e6) > 5.0
    };
    assert!(!bench_of(&[], &[("load", "yes"), ("relay", "out")]));
    assert!(bench_of(&[], &[("scan_tool", "output_test"), ("relay", "out")]));
    let low = [Edit::Volts { part: "battery".to_owned(), volts: 7.5 }];
    assert!(!bench_of(&low, &[("scan_tool", "output_test")]));
}

#[test]
fn conditions_are_unmet_only_where_the_module_withholds() {
    let test: circuit::Test = serde_json::from_value(serde_json::json!({"id": "conditions",
        "name": {"en": "met", "es": "met"}, "mode": "yes_no", "state": {"load": "yes"}, "minutes": 1,
        "question": {"happening": {"conditions_met": {"component": "driver"}}, "miss": 0.05, "false_alarm": 0.2}}))
    .unwrap();
    let id = || "driver".to_owned();
    for (edit, met) in [
        (Edit::NotCommanded(id()), false),
        (Edit::Unresponsive(id()), true),
        (Edit::Dead(id()), true),
        (Edit::Leaks { part: id(), ohms: 1e3 }, true),
    ] {
        let mut bench = bench(&output(), std::slice::from_ref(&edit));
        assert_eq!(truth::happens(&mut bench, &test).unwrap(), met, "{edit:?}");
    }
}

#[test]
fn withheld_outputs_of_the_file_are_no_bad_modules() {
    let mut withheld = 0;
    for circuit in library() {
        for seed in 0..40 {
            for sort in [Sort::FileFault, Sort::ModuleRefuses, Sort::BadOutput] {
                let Some(job) = Job::draw(&circuit, Mix::Only(sort), seed).unwrap() else { continue };
                let refuses = job.causes.iter().any(|cause| cause.ends_with("/not_commanded"));
                assert!(!(refuses && job.in_module), "{}: {}", circuit.id, job.note);
                withheld += u32::from(refuses);
                let bad =
                    job.causes.iter().any(|one| one.ends_with("/unresponsive") || one.ends_with("/leaks"));
                assert!(!bad || job.in_module, "{}: {}", circuit.id, job.note);
            }
        }
    }
    assert!(withheld > 40, "{withheld}");
}
