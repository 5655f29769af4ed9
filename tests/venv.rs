//! A folder of Python programs that others wrote, in fixed versions, for checks against them.
#![allow(clippy::expect_used, clippy::panic)] // A check without its outside program must fail loudly.

use std::fs::File;
use std::path::{Path, PathBuf};
use std::process::Command;

/// Exact versions, so that a check means the same tomorrow.
const PACKAGES: [&str; 7] = [
    "bagit==1.9.0",
    "pymerkle==7.0.0",
    "rfc8785==0.1.4",
    "cryptography-vectors==50.0.2",
    "setuptools==65.5.0",
    "rfc3161-client==1.0.9",
    "icalendar==7.3.2",
];

/// For exact inference in Bayesian networks. Apart from the others: with numpy, scipy and pandas it takes minutes to
/// install.
const INFERENCE: [&str; 2] = ["pgmpy==1.1.2", "numpy==2.4.6"];

/// For the pages: how hard a text is to read, whether a PDF keeps the rules for readers who can't see, whether its records
/// keep their schema. Newer versions of
/// textstat fetch a word list from the network.
const PAGES: [&str; 4] = ["textstat==0.7.4", "pdfua==0.1.3", "jsonschema==4.26.0", "setuptools==65.5.0"];

/// Reads text in pictures, beside our reader of displays.
const READING: [&str; 2] = ["rapidocr==3.10.0", "onnxruntime==1.32.0"];

/// The Python interpreter that has the pinned packages. The first call installs them into `target/checks-venv`.
///
/// # Panics
/// If there is no `python3`, or the packages can't be installed: the set-up must provide both.
pub fn python() -> PathBuf {
    prepared("checks-venv", &PACKAGES)
}

/// The same with pgmpy, in `target/inference-venv`.
///
/// # Panics
/// As [`python`].
pub fn python_for_inference() -> PathBuf {
    prepared("inference-venv", &INFERENCE)
}

/// The same with textstat, pdfua and jsonschema, in `target/pages-venv`.
///
/// # Panics
/// As [`python`].
pub fn python_for_pages() -> PathBuf {
    prepared("pages-venv", &PAGES)
}

/// The same with rapidocr, in `target/reading-venv`.
///
/// # Panics
/// As [`python`].
pub fn python_for_reading() -> PathBuf {
    prepared("reading-venv", &READING)
}

fn prepared(name: &str, packages: &[&str]) -> PathBuf {
    let target = Path::new(env!("CARGO_MANIFEST_DIR")).join("../target");
    std::fs::create_dir_all(&target).expect("the target folder can be made");
    // Tests run as several processes at once; only one may install.
    let lock = File::create(target.join(format!("{name}.lock"))).expect("the lock can be made");
    lock.lock().expect("the lock can be taken");
    let venv = target.join(name);
    let (python, stamp) = (venv.join("bin/python"), venv.join("packages.txt"));
    let wanted = packages.join("\n");
    if std::fs::read_to_string(&stamp).ok().as_ref() != Some(&wanted) {
        run(Command::new("python3").args(["-m", "venv", "--clear"]).arg(&venv));
        run(Command::new(&python).args(["-m", "pip", "install", "--quiet"]).args(packages));
        std::fs::write(&stamp, wanted).expect("the stamp can be written");
    }
    python
}

fn run(command: &mut Command) {
    let status = command.status().unwrap_or_else(|cause| panic!("{command:?} could not start: {cause}"));
    assert!(status.success(), "{command:?} failed; is python3 with venv installed?");
}
