//! New fuses in the place of old ones.

use super::*;

/// 12 V, a 10 A fuse with a variable of its own, and a short of 0.1 ohm behind it while `load` is `yes`.
fn fused() -> Circuit {
    let mut fuse = part(
        "fuse",
        &serde_json::json!({"fuse": {"from": "top", "to": "behind", "ohms": 0.01, "rating_amps": 10,
            "renewed_when": {"fuse": ["new"]}}}),
    );
    fuse["present_when"] = serde_json::json!({"fuse": ["fitted", "new"]});
    circuit_of(
        &["0v", "top", "behind"],
        &serde_json::json!([
            part(
                "battery",
                &serde_json::json!({"battery": {"positive": "top", "negative": "0v", "volts": 12.0,
                "volts_spread": 0.1, "internal_ohms": 0.01}})
            ),
            fuse,
            part(
                "short",
                &serde_json::json!({"switch": {"from": "behind", "to": "0v", "closed_when": {"load": ["yes"]},
                "closed_ohms": 0.1}})
            ),
            part("lamp", &serde_json::json!({"resistor": {"from": "behind", "to": "0v", "ohms": 6.0}})),
        ]),
    )
}

#[test]
fn a_new_fuse_feeds_while_the_old_one_stays_blown() {
    let circuit = fused();
    let mut bench = bench(&circuit, &[]);
    let behind = |bench: &mut Bench, pairs: &[(&str, &str)]| volts(bench, &state(pairs), "behind", 10e6);
    near("blows", behind(&mut bench, &[("load", "yes")]), 0.0, 1e-3);
    // 12 V · 6 / 6.02.
    near("new", behind(&mut bench, &[("fuse", "new")]), 11.960, 2e-3);
    near("the old one again", behind(&mut bench, &[]), 0.0, 1e-3);
    near("out", behind(&mut bench, &[("fuse", "out")]), 0.0, 1e-3);
}

#[test]
fn a_new_fuse_may_blow_where_it_was_put_in_and_leaves_the_old_one_alone() {
    let circuit = fused();
    let mut bench = bench(&circuit, &[]);
    let settled = bench.settle(&state(&[("fuse", "new"), ("load", "yes")]), None, &Meter::None).unwrap();
    assert_eq!(settled.blown, BTreeSet::from([1]));
    assert!(bench.blown.is_empty());
    near("old", volts(&mut bench, &state(&[]), "behind", 10e6), 11.960, 2e-3);
    let asks = |load: &str| -> circuit::Test {
        serde_json::from_value(serde_json::json!({"id": "new", "name": {"en": "new", "es": "new"},
            "mode": "yes_no", "state": {"fuse": "new", "load": load}, "minutes": 1,
            "question": {"happening": {"damage_seen": {"components": ["fuse"]}}, "miss": 0.02, "false_alarm": 0.02}}))
        .unwrap()
    };
    assert!(truth::happens(&mut bench, &asks("yes")).unwrap());
    assert!(!truth::happens(&mut bench, &asks("no")).unwrap());
}

#[test]
fn nothing_of_the_old_fuse_is_left_in_a_new_one() {
    let circuit = fused();
    let id = || "fuse".to_owned();
    let mut weak = circuit.components[1].kind.clone();
    if let circuit::ComponentKind::Fuse { rating_amps, .. } = &mut weak {
        *rating_amps = 0.5;
    }
    for edit in [
        Edit::Open(id()),
        Edit::Series { part: id(), ohms: 100.0 },
        Edit::Fitted { part: id(), kind: Box::new(weak) },
    ] {
        let mut bench = bench(&circuit, std::slice::from_ref(&edit));
        let old = volts(&mut bench, &state(&[]), "behind", 10e6);
        assert!(old < 1.0, "{edit:?}: {old}");
        near("new", volts(&mut bench, &state(&[("fuse", "new")]), "behind", 10e6), 11.960, 2e-3);
    }
}
