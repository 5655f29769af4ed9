//! Every case below `good/` and `bad/`: a packet or its recipe, and what is to be found, judged by the program
//! `testimeter verify` and by the repository's `verify.sh`.

use std::collections::BTreeMap;
use std::path::{Path, PathBuf};
use std::process::Command;

use evidence::packet::Verdict;
use serde::{Deserialize, Serialize};
use serde_json::Value;

use crate::folder::{run, text};
use crate::histories;
use crate::recipe::{Given, Recipe};
use crate::rich::stamped;

/// What is expected: `NAME.verdict.json`.
#[derive(Debug, PartialEq, Serialize, Deserialize)]
#[serde(deny_unknown_fields)]
struct Expected {
    /// What `testimeter verify` ends with: 0 good, 1 bad, 2 could not be read.
    exit: i32,
    /// Code and place of everything that is wrong, in order.
    problems: Vec<(String, String)>,
    /// The same of what is strange about clocks.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    doubts: Vec<(String, String)>,
    /// Whether each log's newest key is trusted, and each time from outside.
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    trusted_logs: Vec<bool>,
    #[serde(default, skip_serializing_if = "Vec::is_empty")]
    trusted_times: Vec<bool>,
    /// What `verify.sh` ends with; none where it can't judge.
    script: Option<i32>,
}

#[test]
fn good_packets_are_found_good() {
    let count = check_all("good");
    assert!(count >= 10, "{count} cases");
}

#[test]
fn bad_packets_are_found_bad_for_the_right_reason() {
    let count = check_all("bad");
    assert!(count >= 40, "{count} cases");
}

/// The folder of cases.
pub fn folder(which: &str) -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("packets").join(which)
}

/// How many cases there were; each that differs is named at the end.
fn check_all(which: &str) -> usize {
    let mut names: Vec<PathBuf> =
        std::fs::read_dir(folder(which)).unwrap().map(|entry| entry.unwrap().path()).collect();
    names.retain(|path| path.to_string_lossy().ends_with(".recipe.json"));
    names.sort();
    let mut wrong = BTreeMap::new();
    for path in &names {
        let recipe: Recipe = serde_json::from_slice(&std::fs::read(path).unwrap())
            .unwrap_or_else(|cause| panic!("{}: {cause}", path.display()));
        let found = judge(&recipe);
        let beside = PathBuf::from(path.to_string_lossy().replace(".recipe.json", ".verdict.json"));
        let expected =
            std::fs::read(&beside).ok().and_then(|text| serde_json::from_slice::<Expected>(&text).ok());
        let is_bad = found.exit != 0;
        if expected.as_ref() != Some(&found) || is_bad != (which == "bad") || script_disagrees(&found) {
            // What was seen is kept in the target folder, to be read and, if it is right, copied beside the recipe.
            let seen = Path::new(env!("CARGO_TARGET_TMPDIR")).join(beside.file_name().unwrap());
            std::fs::write(seen, serde_json::to_string_pretty(&found).unwrap() + "\n").unwrap();
            wrong.insert(format!("{}: {}", path.display(), recipe.about), found);
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
    names.len()
}

/// The script may be unable to unzip (2) what we call bad (1), never the other way round.
fn script_disagrees(found: &Expected) -> bool {
    found.script.is_some_and(|script| (script == 0) != (found.exit == 0))
}

fn judge(recipe: &Recipe) -> Expected {
    let place = tempfile::TempDir::new().unwrap();
    let packet = place.path().join("packet.zip");
    std::fs::write(&packet, recipe.make()).unwrap();
    let out = run(Command::new(program())
        .args(["verify", "--json"])
        .args(arguments(&recipe.given, place.path()))
        .arg(&packet));
    let exit = out.status.code().unwrap();
    let script = recipe.script_cannot.is_none().then(|| {
        let mut script = Command::new("sh");
        script.arg(original());
        for root in &recipe.given.roots {
            script.arg("-r").arg(stamped(&format!("{root}.crt")));
        }
        run(script.arg(&packet)).status.code().unwrap()
    });
    let Ok(verdict) = serde_json::from_slice::<Verdict>(&out.stdout) else {
        assert_eq!(exit, 2, "{}", text(&out.stderr));
        return Expected {
            exit,
            problems: vec![],
            doubts: vec![],
            trusted_logs: vec![],
            trusted_times: vec![],
            script,
        };
    };
    let named = |findings: &[evidence::packet::Finding]| {
        let pair = |finding: &evidence::packet::Finding| {
            let Value::String(code) = serde_json::to_value(finding.code).unwrap() else {
                panic!("a code is text")
            };
            (code, finding.place.clone().unwrap_or_default())
        };
        findings.iter().map(pair).collect()
    };
    Expected {
        exit,
        problems: named(&verdict.problems),
        doubts: named(&verdict.doubts),
        trusted_logs: verdict.logs.iter().map(|log| log.trusted).collect(),
        trusted_times: trusted_times(&verdict),
        script,
    }
}

/// By log and place: times that count, and those a stranger claims.
fn trusted_times(verdict: &Verdict) -> Vec<bool> {
    let mut times: Vec<_> = verdict.times.iter().chain(&verdict.claimed_times).collect();
    times.sort_by_key(|time| &time.place);
    times.iter().map(|time| time.trusted).collect()
}

/// The script of this version, as packets are given it.
fn original() -> PathBuf {
    Path::new(env!("CARGO_MANIFEST_DIR")).join("../src-tauri/crates/evidence/src/packet/verify.sh")
}

fn arguments(given: &Given, place: &Path) -> Vec<String> {
    let mut words = Vec::new();
    for holder in &given.fingerprints {
        words.extend(["--fingerprint".to_owned(), histories::key(holder).fingerprint().unwrap().to_string()]);
    }
    for (count, (history, number)) in given.checkpoints.iter().enumerate() {
        let note = histories::note(history, *number);
        let path = place.join(format!("checkpoint-{count}.txt"));
        std::fs::write(&path, if given.bare_checkpoints { note.text } else { note.note }).unwrap();
        words.extend(["--checkpoint".to_owned(), path.display().to_string()]);
    }
    for root in &given.roots {
        words.extend(["--authority-root".to_owned(), stamped(&format!("{root}.crt")).display().to_string()]);
    }
    words
}

/// The shell command, which cargo builds beside the checks.
pub fn program() -> PathBuf {
    let here = std::env::current_exe().unwrap();
    let path = here.ancestors().nth(2).unwrap().join("testimeter");
    assert!(path.exists(), "{} is missing: cargo build --bin testimeter", path.display());
    path
}
