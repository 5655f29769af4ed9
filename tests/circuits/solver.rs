//! Our solver beside ngspice, both run now.

use circuit::{Circuit, Fault, Level, Netlist, State, library, settled_netlist, solve};

use crate::ngspice;

/// Netlists of sixteen circuits, healthy and with a fault.
#[test]
fn netlists_agree() {
    let mut files: Vec<_> = std::fs::read_dir(concat!(env!("CARGO_MANIFEST_DIR"), "/circuits/netlists"))
        .unwrap()
        .map(|entry| entry.unwrap().path())
        .collect();
    files.sort();
    assert_eq!(files.len(), 32);
    for file in files {
        let text = std::fs::read_to_string(&file).unwrap();
        let theirs = ngspice::solve(&text);
        let netlist = Netlist::from_lines(&text).unwrap();
        let ours = netlist.solve().unwrap();
        let mut compared = 0;
        for (number, name) in netlist.names().iter().enumerate().skip(1) {
            let volts = ours.volts(number).unwrap_or(0.0);
            let reference = theirs[&name.to_lowercase()];
            assert!(ngspice::agrees(volts, reference), "{file:?} {name}: ours {volts}, ngspice {reference}");
            compared += 1;
        }
        assert!(compared > 0, "{file:?} has no nodes");
    }
}

/// Every circuit of the library, healthy and with each fault at three severities, in every state its tests use.
#[test]
fn library_agrees() {
    for circuit in library::all().unwrap() {
        let cases = cases(&circuit);
        let mut points = 0;
        for batch in cases.chunks(BATCH) {
            points += compare(&circuit, batch);
        }
        assert!(
            points > 20 * cases.len() / 10,
            "{}: only {points} points in {} cases",
            circuit.id,
            cases.len()
        );
    }
}

/// Netlists on one sheet: ngspice starts once for them.
const BATCH: usize = 60;

pub type Case = (State, Option<String>, Vec<Fault>);

/// Every state the tests use, healthy and with each fault at three severities.
pub fn cases(circuit: &Circuit) -> Vec<Case> {
    let mut settings: Vec<(State, Option<String>)> = Vec::new();
    for test in &circuit.tests {
        let setting = (test.state.clone(), test.load.clone());
        if !settings.contains(&setting) {
            settings.push(setting);
        }
    }
    let mut faults = vec![Vec::new()];
    for part in &circuit.components {
        for spec in &part.faults {
            let severities = match (spec.min, spec.max) {
                (Some(min), Some(max)) => vec![min, (min * max).sqrt(), max],
                _ => vec![0.0],
            };
            faults.extend(severities.into_iter().map(|severity| {
                vec![Fault { component: part.id.clone(), mode: spec.mode, severity, at: spec.at.clone() }]
            }));
        }
    }
    let every = |(state, load): &(State, Option<String>)| {
        let with = |fault: &Vec<Fault>| (state.clone(), load.clone(), fault.clone());
        faults.iter().map(with).collect::<Vec<_>>()
    };
    settings.iter().flat_map(every).collect()
}

/// Puts many netlists on one sheet with one ground, so that ngspice starts once for all of them.
fn compare(circuit: &Circuit, batch: &[Case]) -> usize {
    let mut sheet = String::new();
    for (k, (state, load, faults)) in batch.iter().enumerate() {
        let netlist = settled_netlist(circuit, state, faults, load.as_deref()).unwrap();
        for line in netlist.to_lines().lines() {
            sheet.push_str(&on_sheet(line, k));
            sheet.push('\n');
        }
    }
    let theirs = ngspice::solve(&sheet);
    let mut points = 0;
    for (k, (state, load, faults)) in batch.iter().enumerate() {
        let ours = solve(circuit, state, faults, load.as_deref()).unwrap();
        let netlist = settled_netlist(circuit, state, faults, load.as_deref()).unwrap();
        for (name, level) in &ours.points {
            let number = netlist.find(name).unwrap();
            let (Level::Volts(volts), true) = (level, number > 0) else { continue };
            let reference = theirs[&format!("n{number}_{k}")];
            let same = ngspice::agrees(*volts, reference);
            assert!(
                same,
                "{} {name} in {state:?} with {faults:?}: ours {volts}, ngspice {reference}",
                circuit.id
            );
            points += 1;
        }
    }
    points
}

/// An element line with its names and nodes marked by a number, so that many netlists stand on one sheet. Nodes are
/// the words that begin with n, x or y and go on with digits; a controlled source also names the source it follows.
fn on_sheet(line: &str, number: usize) -> String {
    let marked = |(i, word): (usize, &str)| {
        let rest = word.get(1..).unwrap_or_default();
        let node = word.starts_with(['n', 'x', 'y', 'z', 'V']) && rest.parse::<u32>().is_ok();
        if i == 0 || node { format!("{word}_{number}") } else { word.to_owned() }
    };
    line.split_whitespace().enumerate().map(marked).collect::<Vec<_>>().join(" ")
}
