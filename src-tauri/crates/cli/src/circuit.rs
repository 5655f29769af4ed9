use crate::blocks;
use crate::error::{CliError, file};
use ::circuit::{Circuit, check, fault_of, library, spice_deck, state_of, volts_text};
use clap::{Args, Subcommand};
use std::path::{Path, PathBuf};

/// Solve a circuit in one state and print every node.
#[derive(Args)]
pub struct Solve {
    /// Circuit: an id of the library, a circuit file, or a composition of blocks.
    circuit: String,
    /// State, such as `key=on,request=on`; what is left out takes its default.
    #[arg(long, default_value = "")]
    state: String,
    /// Fault, such as `wire_control/high_resistance=150`; may be given more than once.
    #[arg(long)]
    fault: Vec<String>,
    /// Substitute load in place.
    #[arg(long)]
    load: Option<String>,
    /// Write the state as a SPICE deck too.
    #[arg(long)]
    spice: Option<PathBuf>,
}

impl Solve {
    pub fn run(self) -> Result<(), CliError> {
        let circuit = named(&self.circuit)?;
        let state = state_of(&self.state)?;
        let faults: Vec<_> =
            self.fault.iter().map(|text| fault_of(&circuit, text)).collect::<Result<_, _>>()?;
        let load = self.load.as_deref();
        print!("{}", volts_text(&circuit, &state, &faults, load)?);
        if let Some(path) = &self.spice {
            let deck = spice_deck(&circuit, &state, &faults, load, None)?;
            std::fs::write(path, deck).map_err(file("write", path))?;
        }
        Ok(())
    }
}

/// Circuits and circuit files.
#[derive(Args)]
pub struct CircuitCommand {
    #[command(subcommand)]
    what: What,
}

#[derive(Subcommand)]
enum What {
    /// List the circuits of the library.
    List,
    /// Check a circuit file, a composition of blocks or an entered diagram: every problem with its place and remedy.
    Check {
        /// The file.
        file: PathBuf,
    },
    /// List the blocks of circuits: loads, switches, modules, ways to drive a coil.
    Blocks,
    /// Make a whole circuit from a composition of blocks or an entered diagram and write it.
    Make {
        /// The composition, or the entered diagram as the app saves it for others.
        composition: PathBuf,
        /// File to write to; absent = print it.
        #[arg(long)]
        to: Option<PathBuf>,
    },
}

impl CircuitCommand {
    pub fn run(self) -> Result<(), CliError> {
        match self.what {
            What::List => list(),
            What::Check { file } => check_file(&file),
            What::Blocks => blocks::list(),
            What::Make { composition, to } => blocks::make(&composition, to.as_ref()),
        }
    }
}

fn list() -> Result<(), CliError> {
    for circuit in library::all()? {
        let (parts, tests) = (circuit.components.len(), circuit.tests.len());
        println!("{:25} {} ({parts} parts, {tests} tests)", circuit.id, circuit.title.en);
    }
    Ok(())
}

fn check_file(path: &Path) -> Result<(), CliError> {
    let text = std::fs::read_to_string(path).map_err(file("read", path))?;
    if blocks::is_composition(&text) || blocks::is_entered(&text) {
        println!("{}: {} is sound", path.display(), blocks::circuit_of(path, &text)?.id);
        return Ok(());
    }
    match check::check(&text) {
        Ok(circuit) => {
            println!("{}: {} is sound", path.display(), circuit.id);
            Ok(())
        }
        Err(problems) => Err(blocks::listed(path, &problems)),
    }
}

/// A circuit by the id of the library, by its file, or by its composition's.
pub fn named(name: &str) -> Result<Circuit, CliError> {
    let path = PathBuf::from(name);
    if !path.exists() {
        return Ok(library::find(name)?);
    }
    let text = std::fs::read_to_string(&path).map_err(file("read", &path))?;
    blocks::circuit_of(&path, &text)
}
