//! Testimeter from a shell: the same api as the window, and a verifier that needs the evidence alone.

mod blocks;
mod circuit;
mod diagnose;
mod error;
mod figures;
mod folder;
mod forgetting;
mod job;
mod label;
mod open;
mod paper;
mod photo;
mod plain_words;
mod play;
mod refusal;
mod remembered;
mod schema;
mod shop;
mod verdict_words;
mod verdict_words_en;
mod verdict_words_es;
mod verify;

use clap::{Parser, Subcommand};
use std::process::ExitCode;

/// Readings, proof and packets of repair jobs.
#[derive(Parser)]
#[command(name = "testimeter", version)]
struct Arguments {
    #[command(subcommand)]
    command: Command,
}

#[derive(Subcommand)]
enum Command {
    /// Play a job from a folder through the same api as the window.
    Play(play::Play),
    /// The demo jobs.
    Demo(play::Demo),
    /// Weigh readings from a file on a circuit.
    Diagnose(diagnose::Diagnose),
    /// Solve a circuit in one state and print every node.
    Solve(circuit::Solve),
    /// List circuits, or check a circuit file.
    Circuit(circuit::CircuitCommand),
    /// Verify a packet by its bytes. Ends with 0 if it is unchanged since the keys it names sealed it, 1 if something is wrong,
    /// 2 if it can't be read.
    Verify(verify::Verify),
    /// Print a job as JSON.
    Job(job::JobCommand),
    /// Photos: read the number on a meter's display, or the bar code of a label.
    Photo(photo::PhotoCommand),
    /// The whole shop: backup, return, open forms, packets, times from outside.
    Shop(shop::ShopCommand),
    /// Write the JSON Schemas of the file formats.
    Schema(schema::Schema),
}

fn main() -> ExitCode {
    let ended = match Arguments::parse().command {
        Command::Play(play) => play.run(),
        Command::Demo(demo) => demo.run(),
        Command::Diagnose(diagnose) => diagnose.run(),
        Command::Solve(solve) => solve.run(),
        Command::Circuit(command) => command.run(),
        Command::Verify(verify) => return verify.run(),
        Command::Job(job) => job.run(),
        Command::Photo(photo) => photo.run(),
        Command::Shop(shop) => shop.run(),
        Command::Schema(schema) => schema.run(),
    };
    match ended {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("testimeter: {error}");
            ExitCode::FAILURE
        }
    }
}
