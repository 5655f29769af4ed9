//! A process to be killed, traced or starved: it keeps photos and records and says so after each.
//!
//! `keeper keep FOLDER COUNT PHOTO_BYTES` keeps COUNT more; `keeper check FOLDER` reads acknowledgements from
//! standard input and checks each against the folder; `keeper check-journals FOLDER` removes the database first.
//! `keeper backup FOLDER FILE` and `keeper restore FILE FOLDER` encrypt with a passphrase of the tests'.

mod sample;
mod sound;

use std::error::Error;
use std::fs::File;
use std::io::{Write, stdin, stdout};
use std::ops::ControlFlow;
use std::path::Path;
use std::process::ExitCode;

use store::{BackupKey, OpenOptions, RestoreAs, Store};

fn main() -> ExitCode {
    let arguments: Vec<String> = std::env::args().skip(1).collect();
    let words: Vec<&str> = arguments.iter().map(String::as_str).collect();
    let done = match words.as_slice() {
        ["keep", folder, count, photo_bytes] => keep(Path::new(folder), count, photo_bytes),
        ["check", folder] => check(Path::new(folder), false),
        ["check-journals", folder] => check(Path::new(folder), true),
        ["backup", folder, file] => backup(Path::new(folder), Path::new(file)),
        ["restore", file, folder] => restore(Path::new(file), Path::new(folder)),
        _ => Err("usage: keeper keep FOLDER COUNT PHOTO_BYTES | check FOLDER | check-journals FOLDER | backup FOLDER FILE | restore FILE FOLDER".into()),
    };
    match done {
        Ok(()) => ExitCode::SUCCESS,
        Err(error) => {
            eprintln!("{error}");
            ExitCode::FAILURE
        }
    }
}

fn keep(folder: &Path, count: &str, photo_bytes: &str) -> Result<(), Box<dyn Error>> {
    let (count, photo_bytes): (u64, usize) = (count.parse()?, photo_bytes.parse()?);
    let store = Store::open(folder, &OpenOptions::default())?;
    for _ in 0..count {
        let kept = sample::keep_next(&store, photo_bytes)?;
        // One write, so that the reader sees a whole line or none.
        stdout().write_all(kept.line().as_bytes())?;
        stdout().flush()?;
    }
    Ok(())
}

fn check(folder: &Path, without_database: bool) -> Result<(), Box<dyn Error>> {
    let lines = stdin().lines().collect::<Result<Vec<_>, _>>()?;
    let kept: Vec<_> = lines.iter().filter_map(|line| sample::Kept::read(&format!("{line}\n"))).collect();
    if without_database {
        sound::all_kept_without_database(folder, &kept)?;
    } else {
        sound::all_kept(&Store::open(folder, &OpenOptions::default())?, &kept)?;
    }
    println!("{} kept", kept.len());
    Ok(())
}

fn backup(folder: &Path, file: &Path) -> Result<(), Box<dyn Error>> {
    let store = Store::open(folder, &OpenOptions::default())?;
    let report = store.backup(file, WORDS, BackupKey::Included, &mut |_| ControlFlow::Continue(()))?;
    println!("{} files backed up", report.files);
    Ok(())
}

fn restore(file: &Path, folder: &Path) -> Result<(), Box<dyn Error>> {
    let (mut input, options) = (File::open(file)?, OpenOptions::default());
    let go_on = &mut |_| ControlFlow::Continue(());
    let report = store::restore(&mut input, WORDS, folder, &RestoreAs::SameDevice, &options, go_on)?;
    println!("{} files restored", report.contents.files_readable);
    Ok(())
}

const WORDS: &str = "words of the keeper";
