//! Searches on the second generator's vehicles (`tests/garage`): another mind's faults, solved by ngspice.

use std::sync::Mutex;
use std::sync::atomic::{AtomicUsize, Ordering};

use circuit::{Circuit, Diagnosis, Engine, Meter, Observation, ObservedValue, Options, Present, Test};

use crate::Failure;
use crate::calibration;
use crate::figures::{Judged, Trial};
use crate::garage::{Job, Mix, Sort};
use crate::technician::{Technician, leading_group};
use crate::world::World;

/// Seeds that are tuned on, and those that are reported.
const TUNED_ON: u64 = 0x3000_0000;
const REPORTED: u64 = 0x7000_0000;
/// From this probability on it is asked whether the truth could have been told from what leads.
const ASKED_FROM: f64 = 0.5;

/// A job of the second generator, before a technician.
struct Stall<'c> {
    circuit: &'c Circuit,
    job: Job,
}

impl World for Stall<'_> {
    fn circuit(&self) -> &Circuit {
        self.circuit
    }

    fn take(&mut self, test: &Test, _: &[Observation]) -> Result<(ObservedValue, Present), Failure> {
        self.job.take(test).map_err(|failure| failure.0.into())
    }
}

/// Half of them as a shop meets them, half with a module truly bad. With `all`, the sorts that are for reporting only too,
/// on other seeds.
pub fn trials(circuits: &[Circuit], jobs: usize, all: bool) -> Result<Vec<(Sort, Trial)>, Failure> {
    let options = Options { next_tests: 3, ..Options::default() };
    let meter = Meter::default();
    let engines: Vec<Engine<'_>> =
        circuits.iter().map(|circuit| Engine::new(circuit, &meter, &options)).collect::<Result<_, _>>()?;
    let with_module: Vec<usize> = (0..circuits.len()).filter(|i| !circuits[*i].modules.is_empty()).collect();
    let (next, done) = (AtomicUsize::new(0), Mutex::new(Vec::new()));
    let failed: Mutex<Option<Failure>> = Mutex::new(None);
    let base = if all { REPORTED } else { TUNED_ON };
    let work = || loop {
        let number = next.fetch_add(1, Ordering::Relaxed);
        if number >= jobs || failed.lock().is_ok_and(|failed| failed.is_some()) {
            return;
        }
        let (mix, place) = if number % 2 == 1 && !with_module.is_empty() {
            (Mix::InModule, with_module[number / 2 % with_module.len()])
        } else {
            (Mix::Shop, number / 2 % circuits.len())
        };
        match one(&circuits[place], &engines[place], mix, base + number as u64, all) {
            Ok(trial) => {
                if let Ok(mut done) = done.lock() {
                    done.extend(trial.map(|(sort, trial)| (number, sort, trial)));
                }
            }
            Err(error) => {
                if let Ok(mut failed) = failed.lock() {
                    *failed = Some(format!("job {number} on {}: {error}", circuits[place].id).into());
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
    done.sort_by_key(|(number, ..): &(usize, Sort, Trial)| *number);
    Ok(done.into_iter().map(|(_, sort, trial)| (sort, trial)).collect())
}

fn one(
    circuit: &Circuit,
    engine: &Engine<'_>,
    mix: Mix,
    seed: u64,
    all: bool,
) -> Result<Option<(Sort, Trial)>, Failure> {
    let drawn_for_module = matches!(mix, Mix::InModule);
    let drawn = Job::draw(circuit, mix, seed).map_err(|failure| failure.0)?;
    let Some(job) = drawn.filter(|job| all || job.sort.for_tuning()) else { return Ok(None) };
    let (sort, causes, module_fault, comes_and_goes) =
        (job.sort, job.causes.clone(), job.in_module, job.comes_and_goes);
    let again = Job::draw(circuit, mix, seed).map_err(|failure| failure.0)?;
    let (search, last) = Technician::new(engine, Stall { circuit, job }).search()?;
    let leads = last.causes.first().is_some_and(|cause| cause.probability >= ASKED_FROM);
    let known = |id: &String| causes.contains(id);
    let group = leading_group(&last);
    let mut same = false;
    if let Some(job) = again.filter(|_| leads && !group.iter().any(known)) {
        for id in &group {
            same |= job.shows_the_same(id).map_err(|failure| failure.0)?;
        }
    }
    let mut judged = Judged::of(&last, &causes, same);
    // What can't be told from the truth is the truth under another name.
    judged.right |= same;
    if std::env::var_os("TRIALS_DETAIL").is_some() && judged.leading > 0.9 && !judged.right {
        told(circuit, sort, &causes, &last);
    }
    let circuit = circuit.id.clone();
    let trial = Trial {
        judged,
        circuit,
        causes,
        module_fault,
        separable: module_fault,
        comes_and_goes,
        drawn_for_module,
        two_show: false,
        pair_leads: false,
        search,
    };
    Ok(Some((sort, trial)))
}

/// What a search that ended wrong saw: what leads and what it was, each with the readings that did most.
fn told(circuit: &Circuit, sort: Sort, truth: &[String], last: &Diagnosis) {
    println!("{} {sort:?} {truth:?}: outside {:.3}, {:?}", circuit.id, last.unmodeled, last.pairs.first());
    let shown = last.causes.iter().enumerate().filter(|(i, cause)| *i < 2 || truth.contains(&cause.id));
    for (_, cause) in shown {
        println!("    {:.3} {} {:?}", cause.probability, cause.id, cause.severity.map(|one| one.median));
        for reason in &cause.reasons {
            println!("      {} {:.1} {:.1}", reason.observation, reason.log_likelihood, reason.log_odds);
        }
    }
}

/// A line for each mix and sort.
pub fn print(found: &[(Sort, Trial)]) {
    let line = |name: &str, wanted: &dyn Fn(&Sort, &Trial) -> bool| {
        let some: Vec<&Trial> =
            found.iter().filter(|(sort, trial)| wanted(sort, trial)).map(|(_, trial)| trial).collect();
        if !some.is_empty() {
            calibration::line(name, &some);
        }
    };
    for sort in Sort::all() {
        let name = format!("{sort:?}{}", if sort.for_tuning() { "" } else { " (reported only)" });
        line(&name, &|own, trial| *own == sort && !trial.drawn_for_module);
    }
    line("half mix", &|_, _| true);
    line("shop's mix", &|_, trial| !trial.drawn_for_module);
    line("shop's mix, never tuned on", &|sort, trial| !trial.drawn_for_module && !sort.for_tuning());
}
