//! `garage`: what the second generator of simulated vehicles draws.
//!
//! `garage [--jobs N] [--in-module] [--circuit ID | --file FILE] [--seed S]` prints a table of sorts with how many jobs came of them;
//! `garage --healthy` prints what every test gives on a vehicle without fault or scatter;
//! `garage --show S [--circuit ID] [--in-module]` prints one job whole: what is wrong, and what every test gives.

#[path = "mod.rs"]
mod garage;

use std::collections::BTreeMap;
use std::error::Error;
use std::process::ExitCode;
use std::time::Instant;

use circuit::{Circuit, ObservedValue, Present};
use garage::{Job, Mix, Sort};

struct Wish {
    jobs: u64,
    seed: u64,
    circuit: Option<String>,
    file: Option<String>,
    mix: Mix,
    show: bool,
    healthy: bool,
    same: bool,
}

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    match wish(&words).and_then(|wish| run(&wish)) {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn wish(mut words: &[&str]) -> Result<Wish, Box<dyn Error>> {
    let mut wish = Wish {
        jobs: 500,
        seed: 1,
        circuit: None,
        file: None,
        mix: Mix::Shop,
        show: false,
        healthy: false,
        same: false,
    };
    loop {
        words = match words {
            [] => return Ok(wish),
            ["--jobs", count, rest @ ..] => {
                wish.jobs = count.parse()?;
                rest
            }
            ["--seed", seed, rest @ ..] => {
                wish.seed = seed.parse()?;
                rest
            }
            ["--show", seed, rest @ ..] => {
                wish.seed = seed.parse()?;
                wish.show = true;
                rest
            }
            ["--circuit", id, rest @ ..] => {
                wish.circuit = Some((*id).to_owned());
                rest
            }
            ["--file", path, rest @ ..] => {
                wish.file = Some((*path).to_owned());
                rest
            }
            ["--in-module", rest @ ..] => {
                wish.mix = Mix::InModule;
                rest
            }
            ["--only", name, rest @ ..] => {
                let mut sorts = garage::Sort::all();
                let sort = sorts.find(|sort| format!("{sort:?}") == **name);
                wish.mix = Mix::Only(sort.ok_or_else(|| format!("no sort is called {name}"))?);
                rest
            }
            ["--healthy", rest @ ..] => {
                wish.healthy = true;
                rest
            }
            ["--same", rest @ ..] => {
                wish.same = true;
                rest
            }
            _ => return Err("usage: garage [--jobs N] [--in-module] [--only SORT] [--circuit ID | --file FILE] [--seed S] [--same] | --show S | --healthy".into()),
        };
    }
}

fn run(wish: &Wish) -> Result<(), Box<dyn Error>> {
    let all = match &wish.file {
        Some(path) => vec![Circuit::from_json(&std::fs::read_to_string(path)?)?],
        None => garage::on_the_bench(circuit::library::all()?),
    };
    let wanted = |one: &&Circuit| wish.circuit.as_ref().is_none_or(|id| *id == one.id);
    let circuits: Vec<&Circuit> = all.iter().filter(wanted).collect();
    if circuits.is_empty() {
        return Err("no such circuit".into());
    }
    if wish.healthy {
        for circuit in circuits {
            println!("{}, as drawn:", circuit.id);
            for (test, value) in garage::of_the_drawing(circuit)? {
                println!("  {test:<28} {:>12}", text(value));
            }
        }
        return Ok(());
    }
    if wish.show { show(wish, &circuits) } else { table(wish, &circuits) }
}

#[derive(Default)]
struct Row {
    drawn: u32,
    jobs: u32,
    listed: u32,
    in_module: u32,
    comes_and_goes: u32,
    blown: u32,
    same: u32,
}

#[allow(clippy::cast_precision_loss, reason = "counts of jobs")]
fn table(wish: &Wish, circuits: &[&Circuit]) -> Result<(), Box<dyn Error>> {
    let mut rows: BTreeMap<Sort, Row> = BTreeMap::new();
    let mut by_circuit: BTreeMap<&str, (u32, u32)> = BTreeMap::new();
    let started = Instant::now();
    let (mut jobs, mut readings, mut draws) = (0_u64, 0_u64, 0_u64);
    for seed in wish.seed.. {
        if jobs == wish.jobs || draws > wish.jobs * 40 {
            break;
        }
        let place = usize::try_from(seed)? % circuits.len();
        let Some(circuit) = circuits.get(place) else { continue };
        draws += 1;
        let count = by_circuit.entry(&circuit.id).or_default();
        count.0 += 1;
        let Some(mut job) = Job::draw(circuit, wish.mix, seed)? else { continue };
        count.1 += 1;
        jobs += 1;
        for test in circuit.tests.iter().take(10) {
            job.take(test)?;
            readings += 1;
        }
        let row = rows.entry(job.sort).or_default();
        row.drawn += 1;
        row.jobs += 1;
        row.listed += u32::from(!job.causes.is_empty());
        row.in_module += u32::from(job.in_module);
        row.comes_and_goes += u32::from(job.comes_and_goes);
        row.blown += u32::from(!job.blown_fuses().is_empty());
        if wish.same
            && let Some(cause) = job.causes.first()
        {
            row.same += u32::from(job.shows_the_same(cause)?);
        }
    }
    let seconds = started.elapsed().as_secs_f64();
    println!(
        "{:<18} {:>5} {:>6} {:>7} {:>10} {:>9} {:>6} {:>5}  set by",
        "sort", "jobs", "%", "listed", "in module", "at times", "blown", "same"
    );
    for (sort, row) in &rows {
        let percent = 100.0 * f64::from(row.jobs) / jobs as f64;
        let use_of = if sort.for_tuning() { "tuning" } else { "reporting only" };
        println!(
            "{:<18} {:>5} {percent:>6.1} {:>7} {:>10} {:>9} {:>6} {:>5}  {use_of}",
            format!("{sort:?}"),
            row.jobs,
            row.listed,
            row.in_module,
            row.comes_and_goes,
            row.blown,
            row.same
        );
    }
    for (circuit, (drawn, kept)) in by_circuit {
        println!("{circuit:<22} {drawn:>5} drawn {kept:>5} with a complaint");
    }
    println!(
        "{jobs} jobs ({draws} draws), {readings} readings, {} solves in {seconds:.1} s: {:.0} jobs a minute",
        garage::solves(),
        jobs as f64 / seconds * 60.0
    );
    Ok(())
}

fn show(wish: &Wish, circuits: &[&Circuit]) -> Result<(), Box<dyn Error>> {
    for circuit in circuits {
        let Some(mut job) = Job::draw(circuit, wish.mix, wish.seed)? else {
            println!("{}: this draw shows no complaint", circuit.id);
            continue;
        };
        println!("{} (circuit {}): {:?}: {}", circuit.id, job.circuit, job.sort, job.note);
        println!("  read with the {}", job.meter().name);
        println!(
            "  causes {:?}, in module {}, at times {}, blown {:?}",
            job.causes,
            job.in_module,
            job.comes_and_goes,
            job.blown_fuses()
        );
        for test in &circuit.tests {
            let truly = text(job.truly(test)?);
            let (value, present) = job.take(test)?;
            let here = match present {
                Present::Yes => "there",
                Present::No => "not there",
                Present::Unknown => "not looked",
            };
            println!("  {:<28} truly {truly:>12}  written {:>12}  {here}", test.id, text(value));
        }
        new_fuses(&mut job, circuit)?;
    }
    Ok(())
}

/// Fuses in place of the blown ones: does the complaint stay, and do they?
fn new_fuses(job: &mut Job, circuit: &Circuit) -> Result<(), Box<dyn Error>> {
    let blown: Vec<String> = job.blown_fuses().into_iter().map(str::to_owned).collect();
    blown.iter().for_each(|fuse| job.replace_fuse(fuse));
    let complaint = circuit.tests.iter().find(|test| test.id == circuit.complaint.test);
    if let (Some(complaint), false) = (complaint, blown.is_empty()) {
        let answer = text(job.truly(complaint)?);
        println!("  with new fuses: {} {answer}, blown then {:?}", complaint.id, job.blown_fuses());
    }
    Ok(())
}

fn text(value: ObservedValue) -> String {
    match value {
        ObservedValue::Number(number) => format!("{number:.5}"),
        ObservedValue::OverLimit => "OL".to_owned(),
        ObservedValue::Yes => "yes".to_owned(),
        ObservedValue::No => "no".to_owned(),
    }
}
