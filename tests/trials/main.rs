//! Thousands of searches on vehicles with hidden faults, whose truth comes from elsewhere than the engine's own priors,
//! spreads and faults. Prints what they add up to; asserts nothing.
//!
//! `trials [--jobs N] [--json] [--picture FILE]`. Half of the jobs are drawn as a shop meets them, half with a fault inside a module.
//! `trials --outside N` searches only for faults outside the circuits, on other seeds, and tells each wrong call: what
//! the gate's rules are made on. `trials --tune N` prints a line each for the mixes, on seeds that are never reported: what
//! the engine's numbers are made on, and with `--rows FILE` every search as CSV; `trials --pairs N` does the same with two
//! faults at once. Needs ngspice.
#![allow(clippy::indexing_slicing, reason = "a bench may stop at the first thing that is wrong")]

mod calibration;
mod figures;
#[path = "../garage/mod.rs"]
#[allow(dead_code, unused_imports, reason = "its own program shows more of it")]
mod garage;
mod judge;
mod policy;
mod random;
mod separable;
mod speed;
mod table;
mod technician;
mod truth;
mod vehicle;
mod world;

use std::sync::atomic::{AtomicUsize, Ordering};
use std::sync::{Mutex, OnceLock};

use circuit::{Circuit, Engine, Meter, Options};
use figures::{Judged, Trial};
use random::Random;
use separable::{ON_A_STRANGE_VEHICLE, ON_THE_SAME_VEHICLE, Outside, shows_the_same};
use technician::{Ended, Technician, leading_group};
use truth::{Drawn, Shop, at_fault};
use vehicle::Vehicle;
use world::Bay;

type Failure = Box<dyn std::error::Error + Send + Sync>;

/// Shops per circuit, each with frequencies of its own.
const SHOPS: u64 = 25;
const USUAL_JOBS: usize = 4_000;
/// One job in so many for each row of the curve.
const CURVE: usize = 8;
/// Seeds of the jobs the gate's numbers were looked at on, of those its rules were made on, and of those reported.
const LOOKED_AT: u64 = 0x1000_0000;
const TUNED_ON: u64 = 0x3000_0000;
const REPORTED: u64 = 0x7000_0000;
/// Further reported jobs: as a shop meets them, and with two faults.
const IN_A_SHOP: u64 = 0x9000_0000;
const PAIRED: u64 = 0xb000_0000;
const TWO_FAULTS: usize = 160;

fn main() -> Result<(), Failure> {
    let words: Vec<String> = std::env::args().skip(1).collect();
    let json = words.iter().any(|word| word == "--json");
    let value = |name: &str| words.iter().position(|word| word == name).and_then(|i| words.get(i + 1));
    if let Some(id) = value("--memory") {
        println!("{}", speed::memory(&circuit::library::find(id)?)?);
        return Ok(());
    }
    let jobs = value("--jobs").map_or(Ok(USUAL_JOBS), |number| number.parse())?;
    let only = value("--circuit");
    let circuits: Vec<Circuit> = circuit::library::all()?
        .into_iter()
        .filter(|circuit| only.is_none_or(|id| *id == circuit.id))
        .collect();
    let outsides: Vec<OnceLock<Outside>> = circuits.iter().map(|_| OnceLock::new()).collect();
    let trials = |jobs, seed, mix, options: &Options| trials(&circuits, &outsides, jobs, seed, mix, options);
    if let Some(jobs) = value("--outside") {
        let options = Options { next_tests: 3, ..Options::default() };
        let found = trials(jobs.parse()?, TUNED_ON, Mix::Outside, &options)?;
        println!("{}", table::outside(&found));
        return Ok(());
    }
    // `--shop` on the circuits with a module only, as a shop meets them: where a wrong module call would be seen.
    let tuned = [("--tune", Mix::Half), ("--shop", Mix::Shop)];
    if let Some((jobs, mix)) = tuned.into_iter().find_map(|(name, mix)| Some((value(name)?, mix))) {
        let options = Options { next_tests: 3, ..Options::default() };
        let found = trials(jobs.parse()?, TUNED_ON, mix, &options)?;
        table::tuned(&found);
        if let Some(file) = value("--rows") {
            std::fs::write(file, table::rows(&found))?;
        }
        return Ok(());
    }
    if let Some(jobs) = value("--pairs") {
        let options = Options { next_tests: 3, ..Options::default() };
        let found = trials(jobs.parse()?, TUNED_ON, Mix::Pairs, &options)?;
        table::pairs(&found);
        return Ok(());
    }
    if let Some(jobs) = value("--garage") {
        let all = words.iter().any(|word| word == "--all-sorts");
        let found = judge::trials(&garage::on_the_bench(circuits), jobs.parse()?, all)?;
        judge::print(&found);
        if let Some(file) = value("--rows") {
            let found: Vec<Trial> = found.into_iter().map(|(_, trial)| trial).collect();
            std::fs::write(file, table::rows(&found))?;
        }
        return Ok(());
    }
    // The gate's numbers as they are and stricter, on seeds of their own.
    let mut looked_at = Vec::new();
    for (module_at_least, rival_at_most) in table::STRICTER {
        let options = Options { next_tests: 3, module_at_least, rival_at_most, ..Options::default() };
        looked_at.push(trials(jobs / CURVE, LOOKED_AT, Mix::Half, &options)?);
    }
    let options = Options { next_tests: 3, ..Options::default() };
    let reported = trials(jobs, REPORTED, Mix::Half, &options)?;
    let in_a_shop = trials(jobs * 7 / 10, IN_A_SHOP, Mix::Shop, &options)?;
    let two_faults = trials(TWO_FAULTS, PAIRED, Mix::Pairs, &options)?;
    let mut policies = Vec::new();
    for circuit in &circuits {
        policies.push((circuit.id.clone(), policy::minutes(circuit, &Meter::default())?));
    }
    if let Some(file) = value("--picture") {
        let shop = reported.iter().filter(|trial| !trial.drawn_for_module).collect();
        let curves = [
            ("as a shop meets them", "#0a6", shop),
            ("half inside a module", "#c50", reported.iter().collect()),
        ];
        std::fs::write(file, calibration::picture(&curves))?;
    }
    let largest = circuits.iter().max_by_key(|circuit| {
        circuit.tests.len() * circuit.components.iter().map(|part| part.faults.len()).sum::<usize>()
    });
    let largest = largest.ok_or("no circuit")?;
    let result = table::Result {
        looked_at: &looked_at,
        reported: &reported,
        in_a_shop: &in_a_shop,
        two_faults: &two_faults,
        circuits: circuits.len(),
        policies: &policies,
        largest: &largest.id,
        solves_over_ngspice: speed::solves_over_ngspice(largest)?,
        memory_mb: memory(&largest.id)?,
    };
    if json {
        println!("{}", result.json()?)
    } else {
        result.print()
    }
    Ok(())
}

/// A process of its own, so that nothing else is counted.
fn memory(circuit: &str) -> Result<f64, Failure> {
    let own = std::env::current_exe()?;
    let output = std::process::Command::new(own).args(["--memory", circuit]).output()?;
    Ok(String::from_utf8_lossy(&output.stdout).trim().parse()?)
}

/// What a run draws.
#[derive(Debug, Clone, Copy, PartialEq, Eq)]
enum Mix {
    /// Half as a shop meets them, half with a fault inside a module.
    Half,
    /// Only faults outside the circuit, on circuits with a module.
    Outside,
    /// As a shop meets them, on circuits with a module.
    Shop,
    /// Two faults of the file at once.
    Pairs,
}

/// Jobs spread evenly over the circuits; on those without a module all are as a shop meets them.
fn trials(
    circuits: &[Circuit],
    outsides: &[OnceLock<Outside>],
    jobs: usize,
    seed: u64,
    mix: Mix,
    options: &Options,
) -> Result<Vec<Trial>, Failure> {
    let meter = Meter::default();
    let with_module: Vec<usize> = (0..circuits.len()).filter(|i| !circuits[*i].modules.is_empty()).collect();
    let engines: Vec<Engine<'_>> =
        circuits.iter().map(|circuit| Engine::new(circuit, &meter, options)).collect::<Result<_, _>>()?;
    let next = AtomicUsize::new(0);
    let done = Mutex::new(Vec::with_capacity(jobs));
    let failed: Mutex<Option<Failure>> = Mutex::new(None);
    let work = || {
        loop {
            let job = next.fetch_add(1, Ordering::Relaxed);
            if job >= jobs || failed.lock().is_ok_and(|failed| failed.is_some()) {
                return;
            }
            let (drawn, place) = match mix {
                Mix::Half | Mix::Outside | Mix::Shop if with_module.is_empty() => {
                    (Drawn::Usual, job % circuits.len())
                }
                Mix::Outside => (Drawn::Outside, with_module[job % with_module.len()]),
                Mix::Shop => (Drawn::Usual, with_module[job % with_module.len()]),
                Mix::Pairs => (Drawn::Pair, job % circuits.len()),
                Mix::Half if job % 2 == 1 => (Drawn::InModule, with_module[job / 2 % with_module.len()]),
                Mix::Half => (Drawn::Usual, job / 2 % circuits.len()),
            };
            let one = trial(&circuits[place], &engines[place], &outsides[place], drawn, seed + job as u64);
            match one {
                Ok(trial) => {
                    if let Ok(mut done) = done.lock() {
                        done.extend(trial.map(|trial| (job, trial)));
                    }
                }
                Err(error) => {
                    if let Ok(mut failed) = failed.lock() {
                        *failed = Some(format!("job {job} on {}: {error}", circuits[place].id).into());
                    }
                }
            }
        }
    };
    std::thread::scope(|scope| {
        let threads = std::thread::available_parallelism().map_or(1, usize::from);
        (0..threads).for_each(|_| {
            scope.spawn(work);
        });
    });
    if let Some(error) = failed.into_inner().map_err(|_| "a thread fell over")? {
        return Err(error);
    }
    let mut done = done.into_inner().map_err(|_| "a thread fell over")?;
    done.sort_by_key(|(job, _)| *job);
    Ok(done.into_iter().map(|(_, trial)| trial).collect())
}

/// Are these two parts the pair that leads everything else?
fn leads_as_pair(found: &circuit::Diagnosis, truth: &[String]) -> bool {
    let Some(best) = found.pairs.first() else { return false };
    let single = found.causes.first().map_or(0.0, |cause| cause.probability);
    // An open part and one of a hundred kilohms show the same beside something else that is open.
    let part = |cause: &String| cause.split('/').next().map(str::to_owned);
    let named = truth.iter().all(|cause| best.causes.iter().any(|other| part(other) == part(cause)));
    named && best.probability > single.max(found.unmodeled)
}

fn trial(
    circuit: &Circuit,
    engine: &Engine<'_>,
    outside: &OnceLock<Outside>,
    drawn: Drawn,
    seed: u64,
) -> Result<Option<Trial>, Failure> {
    let mut random = Random::new(seed);
    // The shop's own frequencies hang on a few seeds only: a shop keeps its customers.
    let mut of_shop = Random::new(seed / 0x1000_0000 * 1000 + (random.share() * SHOPS as f64) as u64);
    let shop = Shop::new(circuit, &mut of_shop);
    let Some(truth) = shop.vehicle(drawn, &mut random)? else { return Ok(None) };
    let technician = Technician::new(engine, Bay::new(&truth, &Meter::default(), random));
    // Of two faults one stops the search as soon as it explains what was read so far: whether both are found is asked of
    // the whole list.
    let (search, last) =
        if drawn == Drawn::Pair { technician.search_and_all_else() } else { technician.search() }?;
    let inside = |fault: &circuit::Fault| at_fault(circuit, &fault.component, fault.mode);
    let module_fault = truth.faulty.faults.iter().any(inside);
    // A second fault beside one in a module that alone does no harm leaves no module to prove.
    let alone: Vec<_> = truth.faulty.faults.iter().filter(|fault| inside(fault)).cloned().collect();
    let by_itself = Vehicle { faults: alone, ..truth.faulty.clone() }.complains().unwrap_or(false);
    let separable = module_fault
        && by_itself
        && Outside::once(outside, circuit)?.tells_apart(circuit, &truth.faulty.faults)?;
    // Two faults can't be told from one of them alone, or from the single cause that leads, where that shows the same.
    let single: Vec<String> = truth.causes.iter().cloned().chain(leading_group(&last)).collect();
    let two_show =
        truth.causes.len() > 1 && !shows_the_same(&truth, &single, ON_A_STRANGE_VEHICLE, &Meter::default())?;
    let pair_leads = two_show && leads_as_pair(&last, &truth.causes);
    let same = truth.causes.is_empty()
        && shows_the_same(&truth, &leading_group(&last), ON_THE_SAME_VEHICLE, &Meter::default())?;
    let judged = Judged::of(&last, &truth.causes, same);
    let asked = std::env::var_os("TRIALS_DETAIL").is_some();
    let called = matches!(search.ended, Ended::ModuleCalled(_));
    let other = matches!(search.ended, Ended::CauseCalled(_)) && !judged.right_or_the_same;
    if (called != module_fault || other) && (drawn == Drawn::Outside || asked) {
        table::detail(&circuit.id, &truth, &search, &last);
    }
    Ok(Some(Trial {
        judged,
        circuit: circuit.id.clone(),
        module_fault,
        separable,
        comes_and_goes: truth.comes_and_goes,
        drawn_for_module: drawn == Drawn::InModule,
        two_show,
        pair_leads,
        causes: truth.causes,
        search,
    }))
}
