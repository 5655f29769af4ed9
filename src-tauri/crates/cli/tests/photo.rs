//! `testimeter photo read`: one line a file, and an exit code that tells.
#![cfg(test)]

use serde_json::Value;
use std::path::PathBuf;
use std::process::Command;

fn demo(name: &str) -> String {
    let path = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("../../../demo-data/photos").join(name);
    path.display().to_string()
}

fn read(files: &[&str]) -> (bool, Vec<Value>) {
    let words = [&["photo", "read", "--json"], files].concat();
    let output = Command::new(env!("CARGO_BIN_EXE_testimeter")).args(words).output().unwrap();
    let text = String::from_utf8(output.stdout).unwrap();
    (output.status.success(), text.lines().map(|line| serde_json::from_str(line).unwrap()).collect())
}

#[test]
fn a_meter_and_a_part_box_are_a_line_each() {
    let (meter, other) = (demo("a-06-battery-volts.jpg"), demo("b-18-part-box.jpg"));
    let (ended_well, lines) = read(&[&meter, &other]);
    assert!(ended_well);
    assert_eq!(lines.len(), 2);
    assert_eq!(lines[0]["file"], meter.as_str());
    assert_eq!(lines[0]["value"], "12.55");
    assert!(lines[0]["confidence"].as_f64().unwrap() > 0.5, "{}", lines[0]);
    let corners = lines[0]["corners"].as_array().unwrap();
    assert_eq!(corners.len(), 4);
    assert!(
        corners
            .iter()
            .flat_map(|c| c.as_array().unwrap())
            .all(|at| (0.0..1200.0).contains(&at.as_f64().unwrap()))
    );
    assert!(lines[0].get("error").is_none());
}

#[test]
fn what_cannot_be_read_has_an_error_and_the_rest_is_read_all_the_same() {
    let meter = demo("a-06-battery-volts.jpg");
    let no_picture = PathBuf::from(env!("CARGO_MANIFEST_DIR")).join("Cargo.toml").display().to_string();
    let (ended_well, lines) = read(&[&no_picture, "there-is-no-such-file.jpg", &meter]);
    assert!(!ended_well);
    assert_eq!(lines.len(), 3);
    for line in &lines[..2] {
        assert!(!line["error"].as_str().unwrap().is_empty(), "{line}");
        assert!(line.get("value").is_none(), "{line}");
    }
    assert_eq!(lines[2]["value"], "12.55");
}
