//! The exported decks: ngspice finds out by itself which relay pulls, which diode conducts, which fuse blows and which
//! driver is at its limit, and has to come to where our solver settles.

use circuit::{Circuit, Fault, FaultMode, Level, State, library, solve, spice_deck, spice_node};

use crate::ngspice;
use crate::solver::{Case, cases};

/// Decks on one sheet: ngspice starts once for them.
const BATCH: usize = 10;
/// A deck runs for 150 ms.
const END: f64 = 0.149;

/// States of every circuit, healthy and with every fault at three severities: one case of each circuit's in three with
/// TESTIMETER_FULL=1, else one in twenty.
#[test]
fn ngspice_settles_where_we_do() {
    let full = std::env::var("TESTIMETER_FULL").is_ok_and(|value| value == "1");
    let (mut points, mut chatter, mut tried, mut differ) = (0, 0, 0, Vec::new());
    for circuit in library::all().unwrap() {
        let every = if full { 3 } else { 20 };
        let some: Vec<Case> = cases(&circuit).into_iter().step_by(every).collect();
        tried += some.len();
        for batch in some.chunks(BATCH) {
            let (compared, unsteady) = compare(&circuit, batch, &mut differ);
            points += compared;
            chatter += unsteady;
        }
    }
    assert!(differ.is_empty(), "{} of {points} points differ:\n{}", differ.len(), differ.join("\n"));
    assert!(points > if full { 30_000 } else { 4_000 }, "only {points} points");
    // Relays and modules buzz on a feed that is too weak for what they switch on.
    assert!(chatter * 100 < tried, "{chatter} of {tried} cases chatter");
}

/// Points compared, and cases left out because relays or drivers chatter in them. Where ngspice finds no step small
/// enough for all that moves on one sheet, every part of the sheet has to come to its end by itself.
fn compare(circuit: &Circuit, batch: &[Case], differ: &mut Vec<String>) -> (usize, usize) {
    let mut sheet = String::from("* sheet\n");
    let mut prints = String::new();
    let mut steady = Vec::new();
    let mut settings = String::new();
    for (k, (state, load, faults)) in batch.iter().enumerate() {
        let ours = solve(circuit, state, faults, load.as_deref()).unwrap();
        if !ours.steady {
            continue;
        }
        let deck = spice_deck(circuit, state, faults, load.as_deref(), None).unwrap();
        let (body, control) = deck.split_once(".options").unwrap();
        sheet.push_str(&format!(".subckt c{k}\n{body}.ends\nx{k} c{k}\n"));
        let (before, printed) = control.split_once("let last").unwrap();
        settings = before.to_owned();
        for line in printed.lines().filter(|line| line.starts_with("print")) {
            prints.push_str(&line.replace("v(", &format!("v(x{k}.")));
            prints.push('\n');
        }
        steady.push((k, ours));
    }
    if steady.is_empty() {
        return (0, batch.len());
    }
    let last = "let last = length(time) - 1\nprint time[last]";
    sheet.push_str(&format!(".options{settings}{last}\n{prints}quit\n.endc\n.end\n"));
    let theirs = ngspice::run(&sheet);
    if theirs["time[last]"] < END {
        assert!(batch.len() > 1, "{}: ngspice stops early:\n{sheet}", circuit.id);
        let (left, right) = batch.split_at(batch.len() / 2);
        let (left, right) = (compare(circuit, left, differ), compare(circuit, right, differ));
        return (left.0 + right.0, left.1 + right.1);
    }
    let mut points = 0;
    for (k, ours) in &steady {
        for (name, level) in &ours.points {
            let node = spice_node(circuit, name).unwrap();
            let (Level::Volts(volts), true) = (level, node != "0") else { continue };
            let key = format!("v(x{k}.{node})[last]");
            let Some(reference) = theirs.get(&key) else { panic!("{}: no {key}\n{sheet}", circuit.id) };
            let (state, load, faults) = &batch[*k];
            if !ngspice::agrees(*volts, *reference) {
                let id = &circuit.id;
                differ.push(format!(
                    "{id} {name}, {state:?}, {load:?}, {faults:?}: ours {volts}, ngspice {reference}"
                ));
            }
            points += 1;
        }
    }
    (points, batch.len() - steady.len())
}

/// The exported deck runs as it is, with its meter.
#[test]
fn exported_decks_run_as_they_are() {
    for circuit in library::all().unwrap() {
        let test = circuit.tests.iter().find(|test| test.mode == circuit::MeasureMode::VoltsDc).unwrap();
        let (red, black) = (test.red.as_deref().unwrap(), test.black.as_deref().unwrap());
        let deck = spice_deck(&circuit, &test.state, &[], None, Some((red, black, 1e7))).unwrap();
        let theirs = ngspice::run(&deck);
        let ours = solve(&circuit, &test.state, &[], None).unwrap();
        for (name, level) in &ours.points {
            let node = spice_node(&circuit, name).unwrap();
            let (Level::Volts(volts), true) = (level, node != "0") else { continue };
            assert!(ngspice::agrees(*volts, theirs[&format!("v({node})[last]")]), "{} {name}", circuit.id);
        }
    }
}

/// A driver's current limit acts at once, a relay in milliseconds: into a short to ground the limit leaves too few volts
/// to pull in.
#[test]
fn a_limit_acts_before_a_relay_moves() {
    let circuit = library::find("relay_high_side").unwrap();
    let state = circuit::state_of("key=on,request=on").unwrap();
    let fault = circuit::fault_of(&circuit, "wire_control/short_to_ground=1").unwrap();
    let solution = solve(&circuit, &state, &[fault], None).unwrap();
    assert!(solution.steady && !solution.working["coil"]);
}

/// A name out of a stranger's file stays a remark, or a number: ngspice runs what stands on a line of its own.
#[test]
fn names_are_no_commands() {
    let mut text = serde_json::to_string(&library::find("relay_low_side").unwrap()).unwrap();
    for name in ["relay_low_side", "key", "horn", "c85"] {
        let hostile = format!("\"{name}\\n.control\\rshell echo {name}\\n.endc\"");
        text = text.replace(&format!("\"{name}\""), &hostile);
    }
    let circuit: Circuit = serde_json::from_str(&text).unwrap();
    let fault = Fault {
        component: circuit.components.iter().find(|part| part.id.starts_with("horn\n")).unwrap().id.clone(),
        mode: FaultMode::Open,
        severity: 0.0,
        at: None,
    };
    let deck = spice_deck(&circuit, &State::new(), &[fault], None, None).unwrap();
    assert!(deck.contains("shell"), "the names are in no remark");
    let commands = deck.lines().filter(|line| !line.starts_with('*'));
    assert!(commands.clone().count() > 50 && !deck.contains('\r'));
    for line in commands {
        assert!(!line.contains("shell") && !line.contains("echo"), "{line}");
    }
    assert_eq!(deck.matches("\n.control\n").count(), 1);
    assert!(ngspice::run(&deck).len() > 10);
}
