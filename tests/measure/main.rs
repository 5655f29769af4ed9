//! Our times beside plain programs doing the same on the same files in the same minute. Prints ratios; asserts nothing.
//!
//! `measure [AREA…] [--json]`; all areas if none is named. Needs coreutils, OpenSSL and libvips-tools; `ui` needs
//! Node and Chromium, and the `bridge` built beside this program.

mod display;
mod drawing;
mod large;
mod long_job;
mod many_jobs;
mod memory;
mod packet;
mod pages;
mod paper;
mod photo;
mod reasoning;
mod screens;
mod shop;
mod start;
mod tree;

use std::collections::BTreeMap;
use std::time::{Duration, Instant};

type Failure = Box<dyn std::error::Error>;

type Figures = fn() -> Result<Vec<(&'static str, f64)>, Failure>;

/// Every area by its name; one area may have several lines.
const AREAS: &[(&str, Figures)] = &[
    ("photo", photo::figures),
    ("photo", display::figures),
    ("paper", paper::figures),
    ("evidence", packet::figures),
    ("evidence", tree::figures),
    ("evidence", memory::figures),
    ("reasoning", reasoning::figures),
    ("reasoning", large::figures),
    ("pages", pages::figures),
    ("pages", pages::memory),
    ("drawing", drawing::figures),
    ("start", start::figures),
    ("shop", long_job::figures),
    ("shop", many_jobs::figures),
    ("ui", screens::figures),
];

fn main() -> Result<(), Failure> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    if let Some((memory::ALONE, work)) = words.split_first().map(|(first, rest)| (first.as_str(), rest)) {
        return memory::alone(work);
    }
    if let Some((pages::ALONE, work)) = words.split_first().map(|(first, rest)| (first.as_str(), rest)) {
        return pages::alone(work);
    }
    let (options, asked): (Vec<String>, Vec<String>) =
        words.into_iter().partition(|word| word.starts_with("--"));
    if let Some(unknown) = asked.iter().find(|name| !AREAS.iter().any(|(area, _)| area == name)) {
        let mut known: Vec<&str> = AREAS.iter().map(|(area, _)| *area).collect();
        known.dedup();
        return Err(format!("there is no area `{unknown}`; there are {}", known.join(", ")).into());
    }
    let mut figures = BTreeMap::new();
    for (_, area) in
        AREAS.iter().filter(|(name, _)| asked.is_empty() || asked.iter().any(|asked| asked == name))
    {
        figures.extend(area()?);
    }
    if options.iter().any(|option| option == "--json") {
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
