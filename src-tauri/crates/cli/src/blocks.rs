use crate::error::{CliError, file};
use ::circuit::blocks::{Composition, Load, LoadKind, Switch, loads, modules, switches};
use ::circuit::entered::Entered;
use ::circuit::{Circuit, Problem};
use serde_json::Value;
use std::path::{Path, PathBuf};

/// Does this text hold a composition of blocks rather than a whole circuit?
pub fn is_composition(text: &str) -> bool {
    serde_json::from_str::<Value>(text).is_ok_and(|value| value.get("blocks").is_some())
}

/// Does this text hold a diagram that was entered (what the app saves as a file for others)?
pub fn is_entered(text: &str) -> bool {
    serde_json::from_str::<Value>(text).is_ok_and(|value| value.get("parts").is_some())
}

/// The circuit that a text holds: whole, as blocks, or as an entered diagram.
pub fn circuit_of(path: &Path, text: &str) -> Result<Circuit, CliError> {
    if is_composition(text) {
        Ok(Composition::from_json(text)?.circuit()?)
    } else if is_entered(text) {
        let made = Entered::from_json(text).and_then(Entered::into_circuit);
        made.map_err(|problems| listed(path, &problems))
    } else {
        Ok(Circuit::from_json(text)?)
    }
}

/// Every problem of a file, each with its place and remedy.
pub fn listed(path: &Path, problems: &[Problem]) -> CliError {
    let lines: Vec<String> = problems.iter().map(ToString::to_string).collect();
    let problem = format!("{} problems\n{}", problems.len(), lines.join("\n"));
    CliError::Format { path: path.display().to_string(), problem }
}

/// Writes the whole circuit that a composition or an entered diagram makes.
pub fn make(composition: &Path, to: Option<&PathBuf>) -> Result<(), CliError> {
    let text = std::fs::read_to_string(composition).map_err(file("read", composition))?;
    let written = one_object_a_line(&circuit_of(composition, &text)?);
    match to {
        None => print!("{written}"),
        Some(path) => std::fs::write(path, written).map_err(file("write", path))?,
    }
    Ok(())
}

/// A circuit file as the checker wants it: it names the line of an object.
fn one_object_a_line(circuit: &Circuit) -> String {
    let Ok(Value::Object(whole)) = serde_json::to_value(circuit) else { return String::new() };
    let section = |(key, value): (&String, &Value)| match value {
        Value::Array(list) if !list.is_empty() => {
            let lines: Vec<String> =
                list.iter().map(|entry| format!("    {}", without_nothing(entry))).collect();
            format!("  {key:?}: [\n{}\n  ]", lines.join(",\n"))
        }
        value => format!("  {key:?}: {}", without_nothing(value)),
    };
    let sections: Vec<String> = whole.iter().map(section).collect();
    format!("{{\n{}\n}}\n", sections.join(",\n"))
}

/// What is null is left out.
fn without_nothing(value: &Value) -> Value {
    match value {
        Value::Object(map) => {
            let there = map.iter().filter(|(_, value)| !value.is_null());
            Value::Object(there.map(|(key, value)| (key.clone(), without_nothing(value))).collect())
        }
        Value::Array(list) => list.iter().map(without_nothing).collect(),
        other => other.clone(),
    }
}

/// Lists what a composition can be made of.
pub fn list() -> Result<(), CliError> {
    println!("switched_by (what carries the load's current): relay, solid_state_relay, module_output");
    println!(
        "drive (what drives the coil, or the side of a module's own output): module_feeds, module_grounds,"
    );
    println!("  switch_feeds, switch_grounds");
    println!("leg (its other end): on ground, load_fuse, fuse, ignition; through a switch");
    println!("across (the coil): nothing, diode, resistor");
    println!("how (a request comes): switch_to_ground, switch_to_feed, over_the_bus, directly");
    println!("\nloads");
    for load in loads()? {
        println!("  {:20} {} ({})", load.id, load.words.part.en, numbers(&load));
    }
    println!("  {:20} in your own words, by amps or ohms (FORMAT.md)", ::circuit::blocks::NAMED);
    println!("\nswitches and messages");
    for Switch { id, words, .. } in switches()? {
        println!("  {id:20} {}", words.part.en);
    }
    println!("\nmodules");
    for module in modules()? {
        println!("  {:20} {}", module.id, module.name.en);
    }
    Ok(())
}

fn numbers(load: &Load) -> String {
    let ohms = match load.kind {
        LoadKind::Motor { ohms, .. }
        | LoadKind::Lamp { ohms, .. }
        | LoadKind::Heater { ohms }
        | LoadKind::Magnet { ohms, .. } => ohms,
        LoadKind::Starter { solenoid_ohms, .. } => solenoid_ohms,
    };
    format!("{ohms} ohm, fuse {} A", load.fuse_amps)
}
