//! The whole job through the shipped screens in Chromium, with the real backend.
use std::path::PathBuf;
use std::sync::{Mutex, PoisonError};

use crate::error::{Error, at};
use crate::program::Program;
use crate::step::{Counts, Outcome};
use crate::tree;

const PLAYER: &str = "tests/screens/chromium/run.mjs";

/// Plays the first demo job, or with full counts each of them; looks at every screen in both themes and languages.
pub fn check(counts: Counts) -> Result<Outcome, Error> {
    let jobs = jobs()?;
    if jobs.is_empty() {
        return Ok(Outcome::Failed("demo-data holds no job".to_owned()));
    }
    let most = match counts {
        Counts::Full => jobs.len(),
        Counts::Reduced => 1,
    };
    side_by_side(jobs.get(..most).unwrap_or(&jobs))?;
    Ok(Outcome::Passed)
}

/// How many jobs are played at once: a browser waits for its screens to settle most of the time.
const AT_ONCE: usize = 3;

/// Plays every job; the first that fails is the answer, after all have ended.
fn side_by_side(jobs: &[PathBuf]) -> Result<(), Error> {
    let waiting = Mutex::new(jobs.iter());
    let next = || waiting.lock().unwrap_or_else(PoisonError::into_inner).next();
    let work = || {
        let mut ended = Ok(());
        while let Some(job) = next() {
            ended = ended.and(play(job));
        }
        ended
    };
    std::thread::scope(|scope| {
        let workers: Vec<_> = (0..AT_ONCE.min(jobs.len())).map(|_| scope.spawn(work)).collect();
        let broken = || Error::Found("a check of the screens broke off".to_owned());
        workers.into_iter().try_for_each(|worker| worker.join().unwrap_or_else(|_| Err(broken())))
    })
}

fn play(job: &std::path::Path) -> Result<(), Error> {
    let pictures = tree::target().join("screens").join(job.file_name().unwrap_or_default());
    let bridge = tree::built("bridge");
    Program::new(&["node", PLAYER, "--bridge"])
        .and(&bridge)
        .more("--job")
        .and(job)
        .more("--out")
        .and(&pictures)
        .run()
}

/// The demo jobs' folders, in the order of their names.
fn jobs() -> Result<Vec<PathBuf>, Error> {
    let folder = tree::root().join("demo-data");
    let entries = std::fs::read_dir(&folder).map_err(at(&folder))?.flatten();
    let mut jobs: Vec<PathBuf> =
        entries.map(|entry| entry.path()).filter(|job| job.join("job.json").exists()).collect();
    jobs.sort();
    Ok(jobs)
}
