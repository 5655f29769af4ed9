//! `cargo xtask`: sets the machine up, runs the app, and runs everything this project holds itself to.

mod benches;
mod bindings;
mod ci_script;
mod debian;
mod error;
mod imports;
mod layout;
mod models;
mod node;
mod program;
mod python;
mod run;
mod screens;
mod setup;
mod step;
mod steps;
mod tree;

use std::process::ExitCode;

use clap::{Parser, Subcommand};

/// Sets up, runs and checks Testimeter.
#[derive(Parser)]
#[command(name = "cargo xtask", bin_name = "cargo xtask", version)]
struct Arguments {
    #[command(subcommand)]
    task: Task,
}

#[derive(Subcommand)]
enum Task {
    /// Installs what building, running and checking need and this machine lacks.
    Setup,
    /// Builds the app, loads the demo shop on the first start and opens the window.
    Run(run::Run),
    /// Runs every check and closes with `N passed, N failed`.
    Test(steps::Test),
    /// Writes the TypeScript types and JSON Schemas anew from the Rust types.
    Bindings,
    /// Draws the demo's photographs anew.
    Photos,
    /// Fetches the networks that read papers; the app works without.
    Models(models::Models),
    /// Prints how long our work takes beside plain tools doing the same.
    Bench(benches::Bench),
}

fn main() -> ExitCode {
    let done = match Arguments::parse().task {
        Task::Setup => setup::everything(),
        Task::Run(run) => run.go(),
        Task::Test(test) => test.go(),
        Task::Bindings => bindings::rewrite(),
        Task::Photos => run::draw_photos(),
        Task::Models(models) => models.go(),
        Task::Bench(bench) => bench.go(),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("cargo xtask: {error}");
            ExitCode::from(error.exit_code())
        }
    }
}
