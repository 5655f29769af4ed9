//! The checker: every problem with its line, and hostile or huge files refused before anything is computed.

use circuit::check::{check, limits};
use circuit::{Circuit, ProblemCode};

const GOOD: &str = include_str!("two_wires.json");

/// Replaces once, and tells what the checker says: code, line, place.
fn said(from: &str, to: &str) -> Vec<(ProblemCode, Option<usize>, String)> {
    assert!(GOOD.contains(from), "{from} isn't in the file");
    let problems = check(&GOOD.replacen(from, to, 1)).unwrap_err();
    assert!(problems.iter().all(|problem| !problem.problem.is_empty() && !problem.remedy.is_empty()));
    problems.into_iter().map(|problem| (problem.code, problem.line, problem.place)).collect()
}

#[test]
fn a_good_file_passes() {
    check(GOOD).unwrap();
}

#[test]
fn problems_are_named_with_line_and_place() {
    let one = |from: &str, to: &str, code: ProblemCode, line: usize, place: &str| {
        let found = said(from, to);
        assert!(found.contains(&(code, Some(line), place.to_owned())), "{from} → {to}: {found:?}");
    };
    one(
        r#""from":"feed","to":"lamp_in""#,
        r#""from":"feed","to":"lamp""#,
        ProblemCode::NotListed,
        7,
        "components/feed_wire",
    );
    one(r#""ohms":6}"#, r#""ohms":-6}"#, ProblemCode::Number, 9, "components/lamp");
    one(r#""minutes":1"#, r#""minutes":0"#, ProblemCode::Number, 11, "tests/lit");
    one(r#""answer":false"#, r#""answer":true"#, ProblemCode::HealthyFails, 11, "tests/lit");
    one(
        r#""from":"lamp_out","to":"ground""#,
        r#""from":"lamp_out","to":"lamp_in""#,
        ProblemCode::NoReturn,
        9,
        "components/lamp",
    );
    one(
        r#""mode":"open","odds":4"#,
        r#""mode":"stuck_open","odds":4"#,
        ProblemCode::Contradiction,
        9,
        "components/lamp/faults/stuck_open",
    );
    one(r#""unmodelled_odds":1"#, r#""unmodelled_odds":0"#, ProblemCode::Number, 12, "unmodelled_odds");
    one(r#""format":1"#, r#""format":"one""#, ProblemCode::Unreadable, 1, "file");
    one(r#""variables":[]"#, r#""variables":[],"more":1"#, ProblemCode::Unreadable, 10, "file");
}

/// Two wrong things are two problems.
#[test]
fn all_problems_are_listed() {
    let twice =
        GOOD.replacen(r#""ohms":6}"#, r#""ohms":-6}"#, 1).replacen(r#""minutes":1"#, r#""minutes":0"#, 1);
    assert_eq!(check(&twice).unwrap_err().len(), 2);
    let error = Circuit::from_json(&twice).unwrap_err().to_string();
    assert!(error.contains("line 9") && error.contains("1 more"), "{error}");
}

#[test]
fn hostile_files_are_refused_by_size() {
    let huge = GOOD.replacen("For a check.", &"x".repeat(limits::MAX_BYTES), 1);
    let deep = format!("{}{}", "[".repeat(50_000), "]".repeat(50_000));
    let mut many = String::new();
    for i in 0..400 {
        many.push_str(&format!(
            r#"{{"id":"p{i}","name":{{"en":"a","es":"a"}},"x":0,"y":0,"reachable":true}},"#
        ));
    }
    let many = GOOD.replacen(r#""points":["#, &format!(r#""points":[{many}"#), 1);
    let long = GOOD.replacen("For a check.", &"x".repeat(limits::MAX_PHRASE + 1), 1);
    let name =
        GOOD.replacen(r#""id":"lamp_out""#, &format!(r#""id":"{}""#, "x".repeat(limits::MAX_NAME + 1)), 1);
    for (text, code) in [
        (huge, ProblemCode::TooLarge),
        (deep, ProblemCode::TooLarge),
        (many, ProblemCode::TooLarge),
        (long, ProblemCode::TooLarge),
        (name, ProblemCode::Name),
        ("\u{0}\u{1}".to_owned(), ProblemCode::Unreadable),
        (GOOD.replacen("12.6", "1e999", 1), ProblemCode::Unreadable),
    ] {
        let problems = check(&text).unwrap_err();
        assert!(problems.iter().any(|problem| problem.code == code), "{problems:?}");
        assert!(Circuit::from_json(&text).is_err());
    }
}

/// Loads that could burn an output are refused (limits of the diagnosis rules: never more current than the part that
/// is normally driven, lamps by their cold current, never at references or data lines).
#[test]
fn dangerous_loads_are_refused() {
    let with = |load: &str, point: &str| {
        let text = GOOD.replacen(r#""tests":["#, &format!(r#""loads":[{load}],"tests":["#), 1);
        check(&text.replacen(
            r#""y":0,"reachable":true},{"id":"lamp_out""#,
            &format!(r#""y":0,"reachable":true{point}}},{{"id":"lamp_out""#),
            1,
        ))
    };
    let load = |more: &str| {
        format!(
            r#"{{"id":"l","name":{{"en":"l","es":"l"}},"from":"lamp_in","to":"lamp_out","tolerance_percent":5,"replaces":"lamp",{more}}}"#
        )
    };
    with(&load(r#""ohms":6.2"#), "").unwrap();
    with(&load(r#""ohms":60,"cold_ohms":6"#), "").unwrap();
    with(&load(r#""ohms":29,"cold_ohms":3,"maker_limit_amps":5.5"#), "").unwrap();
    for (refused, point) in [
        (load(r#""ohms":3"#), ""),
        (load(r#""ohms":29,"cold_ohms":3"#), ""),
        (load(r#""ohms":29,"cold_ohms":3,"maker_limit_amps":4"#), ""),
        (load(r#""ohms":6.2"#), r#","never_load":true"#),
    ] {
        let problems = with(&refused, point).unwrap_err();
        assert!(
            problems.iter().any(|problem| problem.code == ProblemCode::Unsafe),
            "{refused}: {problems:?}"
        );
    }
}
