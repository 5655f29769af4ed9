//! Our times beside plain programs doing the same on the same files in the same minute. Prints ratios; asserts nothing.
//!
//! `measure [--json]`. Needs coreutils, OpenSSL and libvips-tools.

mod packet;
mod photo;
mod reasoning;
mod shop;
mod start;

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

type Failure = Box<dyn std::error::Error>;

fn main() -> Result<(), Failure> {
    let json = std::env::args().any(|word| word == "--json");
    let mut figures = BTreeMap::new();
    figures.extend(photo::figures()?);
    figures.extend(packet::figures()?);
    figures.extend(reasoning::figures()?);
    figures.extend(start::figures()?);
    if json {
        println!("{}", serde_json::to_string(&figures)?);
    } else {
        figures.iter().for_each(|(name, value)| println!("{name:<36} {value:>10.3}"));
    }
    Ok(())
}

/// Median seconds of an odd number of runs, after one that isn't counted.
fn median(runs: usize, mut run: impl FnMut() -> Result<(), Failure>) -> Result<f64, Failure> {
    run()?;
    let mut times = Vec::new();
    for _ in 0..runs {
        let start = Instant::now();
        run()?;
        times.push(start.elapsed());
    }
    times.sort_unstable();
    Ok(times.get(runs / 2).copied().unwrap_or(Duration::ZERO).as_secs_f64())
}

/// Runs a program to its end; one that isn't there is named.
fn program(words: &[&str]) -> Result<(), Failure> {
    let (name, arguments) = words.split_first().ok_or("no program")?;
    let output = std::process::Command::new(name).args(arguments).output();
    let output = output.map_err(|error| format!("{name}: {error}: install it"))?;
    if output.status.success() { Ok(()) } else { Err(format!("{name} failed").into()) }
}
