//! Time per solve beside a run of ngspice, and memory.

use std::io::Write as _;
use std::process::{Command, Stdio};
use std::time::Instant;

use circuit::{Circuit, Engine, Fault, FaultMode, Meter, Options, settled_netlist};

use crate::Failure;

const RUNS: u32 = 9;
const SOLVES: u32 = 2000;

/// How many of our solves of a circuit with a fault fit into one run of ngspice on the same netlist.
pub fn solves_over_ngspice(circuit: &Circuit) -> Result<f64, Failure> {
    let part = circuit
        .components
        .iter()
        .find(|part| part.faults.iter().any(|fault| fault.mode == FaultMode::HighResistance));
    let component = part.ok_or("no part with a resistance")?.id.clone();
    let fault = Fault { component, mode: FaultMode::HighResistance, severity: 2.0, at: None };
    let state = circuit.tests.first().map(|test| test.state.clone()).unwrap_or_default();
    let netlist = settled_netlist(circuit, &state, &[fault], None)?;
    let deck = format!("* one solve\n{}\n.options rshunt=1e12\n.op\n.end\n", netlist.to_lines());
    let mut theirs = Vec::new();
    for _ in 0..RUNS {
        let start = Instant::now();
        let mut run = Command::new("ngspice")
            .arg("-b")
            .stdin(Stdio::piped())
            .stdout(Stdio::null())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| format!("ngspice: {error}: install it"))?;
        run.stdin.take().ok_or("no input")?.write_all(deck.as_bytes())?;
        run.wait()?;
        theirs.push(start.elapsed().as_secs_f64());
    }
    theirs.sort_by(f64::total_cmp);
    let start = Instant::now();
    for _ in 0..SOLVES {
        std::hint::black_box(netlist.solve()?);
    }
    let ours = start.elapsed().as_secs_f64() / f64::from(SOLVES);
    Ok(theirs[theirs.len() / 2] / ours)
}

/// Prepares the circuit and weighs nothing yet; the most memory this process ever held, megabytes.
pub fn memory(circuit: &Circuit) -> Result<f64, Failure> {
    let engine = Engine::new(circuit, &Meter::default(), &Options::default())?;
    std::hint::black_box(engine.diagnose(&[])?);
    let status = std::fs::read_to_string("/proc/self/status")?;
    let line = status.lines().find(|line| line.starts_with("VmHWM")).ok_or("no VmHWM")?;
    let kilobytes: f64 = line.split_whitespace().nth(1).ok_or("no number")?.parse()?;
    Ok(kilobytes / 1024.0)
}
