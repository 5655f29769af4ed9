//! One ngspice that stays alive and solves deck after deck: starting it anew would take longer than solving.

use std::cell::RefCell;
use std::collections::HashMap;
use std::io::{BufRead, BufReader, Write};
use std::path::PathBuf;
use std::process::{Child, ChildStdin, ChildStdout, Command, Stdio};
use std::sync::atomic::{AtomicU64, Ordering};

use super::Failure;

/// Volts by node and amperes by source (`v7#branch`).
pub type Solved = HashMap<String, f64>;

const MARK: &str = "deck-is-done";

static SOLVES: AtomicU64 = AtomicU64::new(0);

thread_local! {
    static PROGRAM: RefCell<Option<Program>> = const { RefCell::new(None) };
}

/// Operating points solved so far, for the program's table.
pub fn solves() -> u64 {
    SOLVES.load(Ordering::Relaxed)
}

/// Operating point of a deck, whose last line is `.end`.
///
/// # Errors
/// ngspice isn't installed, or finds no operating point.
pub fn operating_point(deck: &str) -> Result<Solved, Failure> {
    PROGRAM.with(|slot| {
        let mut slot = slot.borrow_mut();
        if slot.is_none() {
            *slot = Some(Program::start()?);
        }
        let Some(program) = slot.as_mut() else { return Err(Failure("ngspice didn't start".to_owned())) };
        SOLVES.fetch_add(1, Ordering::Relaxed);
        let solved = program.solve(deck);
        // After an error what it holds is unknown: the next deck gets a fresh one.
        if solved.is_err() {
            *slot = None;
        }
        solved
    })
}

struct Program {
    child: Child,
    input: ChildStdin,
    output: BufReader<ChildStdout>,
    file: PathBuf,
}

impl Program {
    fn start() -> Result<Self, Failure> {
        let mut child = Command::new("ngspice")
            .args(["-p", "-n"])
            .stdin(Stdio::piped())
            .stdout(Stdio::piped())
            .stderr(Stdio::null())
            .spawn()
            .map_err(|error| {
                Failure(format!("ngspice can't be started ({error}). Install the package ngspice"))
            })?;
        let (Some(mut input), Some(output)) = (child.stdin.take(), child.stdout.take()) else {
            return Err(Failure("ngspice has no pipes".to_owned()));
        };
        input.write_all(b"set numdgt=12\n").map_err(lost)?;
        let name = format!("garage-{}-{:?}.cir", std::process::id(), std::thread::current().id());
        let in_memory = PathBuf::from("/dev/shm");
        let folder = if in_memory.is_dir() { in_memory } else { std::env::temp_dir() };
        Ok(Self {
            child,
            input,
            output: BufReader::new(output),
            file: folder.join(name.replace(['(', ')'], "")),
        })
    }

    fn solve(&mut self, deck: &str) -> Result<Solved, Failure> {
        std::fs::write(&self.file, deck).map_err(lost)?;
        let file = self.file.display();
        let words = format!("source {file}\nop\nprint all\ndestroy all\nremcirc\necho {MARK}\n");
        self.input.write_all(words.as_bytes()).map_err(lost)?;
        self.input.flush().map_err(lost)?;
        let mut solved = Solved::new();
        let mut line = String::new();
        let mut failed = false;
        loop {
            line.clear();
            if self.output.read_line(&mut line).map_err(lost)? == 0 {
                return Err(Failure(format!("ngspice ended at this deck:\n{deck}")));
            }
            let said = line.trim_end();
            if said.contains(MARK) {
                break;
            }
            failed |= said.contains("simulation(s) aborted") || said.starts_with("Error");
            if let Some((name, value)) = said.split_once(" = ")
                && let Ok(value) = value.trim().parse()
            {
                solved.insert(name.trim().to_owned(), value);
            }
        }
        // Read already; nothing stays behind whenever the program ends.
        std::fs::remove_file(&self.file).map_err(lost)?;
        if failed || solved.is_empty() {
            return Err(Failure(format!("ngspice finds no operating point:\n{deck}")));
        }
        Ok(solved)
    }
}

impl Drop for Program {
    fn drop(&mut self) {
        // It may be gone already; then there is nothing to end.
        let _ended = self.child.kill();
        let _status = self.child.wait();
        let _removed = std::fs::remove_file(&self.file);
    }
}

fn lost(error: std::io::Error) -> Failure {
    Failure(format!("ngspice was lost ({error})"))
}
