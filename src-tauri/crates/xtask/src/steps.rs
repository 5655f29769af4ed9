//! The checks, as data.
use clap::Args;

use crate::error::Error;
use crate::step::{self, Counts, Outcome, Step, Work};
use crate::{bindings, ci_script, imports, layout, models, node, screens, setup, tree};

#[derive(Args)]
pub struct Test {
    /// Lints, documentation and licenses too, full counts in the tests that repeat thousands of times, the phones'
    /// type-check and fuzzing.
    #[arg(long)]
    all: bool,
    /// Only the checks of these names.
    #[arg(long, value_name = "NAME", num_args = 1..)]
    only: Vec<String>,
    /// Names the checks and what each proves.
    #[arg(long)]
    list: bool,
}

impl Test {
    pub fn go(self) -> Result<(), Error> {
        let steps = self.chosen()?;
        if self.list {
            steps.iter().for_each(|step| println!("{:<13} {}", step.name, step.proves));
            return Ok(());
        }
        if self.all || !self.only.is_empty() {
            setup::everything()?
        } else {
            setup::for_checking()?
        }
        if self.all {
            models::fetch(&tree::target())?;
        }
        step::run_all(&rounds(&steps), if self.all { Counts::Full } else { Counts::Reduced })
    }

    fn chosen(&self) -> Result<Vec<&'static Step>, Error> {
        let all: Vec<&Step> = ORDER.iter().chain(WORKS).chain(BEYOND).collect();
        if let Some(unknown) = self.only.iter().find(|name| !all.iter().any(|step| step.name == *name)) {
            return Err(Error::Found(format!("there is no check `{unknown}`; `--list --all` names them")));
        }
        if !self.only.is_empty() {
            return Ok(all
                .into_iter()
                .filter(|step| self.only.iter().any(|name| name == step.name))
                .collect());
        }
        Ok(if self.all { all } else { WORKS.iter().collect() })
    }
}

/// The screens wait for their browser most of the time, and the phones' type-check, which builds in a folder of its own,
/// keeps every core busy.
const AT_ONCE: (&str, &str) = ("screens", "phones");

/// Each step alone, but for the two that run at once.
fn rounds<'s>(steps: &[&'s Step]) -> Vec<Vec<&'s Step>> {
    let (waits, works) = AT_ONCE;
    let both = steps.iter().any(|step| step.name == waits);
    let beside = steps.iter().copied().find(|step| both && step.name == works);
    let alone = steps.iter().filter(|step| beside.is_none_or(|beside| beside.name != step.name));
    alone
        .map(|step| {
            let beside = beside.filter(|_| step.name == waits);
            std::iter::once(*step).chain(beside).collect()
        })
        .collect()
}

/// What proves that the program works. Cargo's features must be the same in every step, or it builds tauri anew each
/// time: always `--workspace --all-features`.
const WORKS: &[Step] = &[
    own("pages", "the user interface builds", |_| node::build().map(|()| Outcome::Passed)),
    in_ui("vitest", "the user interface's own tests pass", &["npm", "test"]),
    run("build", "the app, the shell command and the checks' programs build", &BUILD),
    run("tests", "our own tests and the checks against outside references pass", &TESTS),
    own("screens", "the whole job works in Chromium with the real backend", screens::check),
    run("window", "the real window works", &WINDOW),
];

/// What `--all` asks before it: is the house in order?
const ORDER: &[Step] = &[
    own("layout", "the top folder holds only what the design names; no file is too long", |_| {
        layout::check()
    }),
    own("imports", "no room knows what it must not know", |_| imports::check()),
    run("fmt", "the Rust is laid out by rustfmt", &["cargo", "fmt", "--all", "--check"]),
    in_ui(
        "lint",
        "prettier and eslint agree: no `any`, no shell outside its backend",
        &["npm", "run", "lint"],
    ),
    in_ui("screens-lint", "the tests of the screens are laid out as the screens are", &SCREENS_LINT),
    in_ui("svelte", "the user interface's types hold", &["npm", "run", "check"]),
    run("typos", "the words are spelled right", &["typos", "--config", ".typos.toml"]),
    run("deny", "licenses, sources and bans of what we build on are kept", &DENY),
    run("machete", "every dependency is used", &["cargo-machete"]),
    run("clippy", "no lint is broken, in the tests neither", &CLIPPY),
    Step {
        name: "doc",
        proves: "the documentation builds and its links lead somewhere",
        work: Work::With(
            "RUSTDOCFLAGS",
            "-D warnings",
            &["cargo", "doc", "--workspace", "--all-features", "--no-deps"],
        ),
    },
    run(
        "doctests",
        "the examples in the documentation work",
        &["cargo", "test", "--workspace", "--all-features", "--doc"],
    ),
    own("bindings", "the TypeScript types and JSON Schemas are those of the Rust types", |_| {
        bindings::check()
    }),
];

/// What `--all` adds after it.
const BEYOND: &[Step] = &[
    own("phones", "the Rust has the right types for Android and iOS", |_| {
        ci_script::check(".ci/check-phones", "Debian's packages for it are missing")
    }),
    own("fuzz", "40 seconds of chance bytes at each entry for bytes from strangers finds nothing", |_| {
        ci_script::check(".ci/fuzz", "a nightly compiler is missing")
    }),
];

/// The advisories' list lies on a server that a check without a network can't ask.
const DENY: [&str; 7] =
    ["cargo-deny", "--config", ".config/deny.toml", "check", "bans", "licenses", "sources"];
const CLIPPY: [&str; 8] =
    ["cargo", "clippy", "--workspace", "--all-features", "--all-targets", "--", "-D", "warnings"];
const BUILD: [&str; 5] = ["cargo", "build", "--workspace", "--all-features", "--bins"];
const TESTS: [&str; 6] = ["cargo", "nextest", "run", "--workspace", "--all-features", "--no-fail-fast"];
const WINDOW: [&str; 8] = [
    "cargo",
    "nextest",
    "run",
    "--workspace",
    "--all-features",
    "--ignore-default-filter",
    "-E",
    "binary(window)",
];

const SCREENS_LINT: [&str; 6] =
    ["npx", "prettier", "--config", ".prettierrc.json", "--check", "../tests/screens/**/*.mjs"];

const fn run(name: &'static str, proves: &'static str, words: &'static [&'static str]) -> Step {
    Step { name, proves, work: Work::Run(words) }
}

const fn in_ui(name: &'static str, proves: &'static str, words: &'static [&'static str]) -> Step {
    Step { name, proves, work: Work::InUi(words) }
}

const fn own(name: &'static str, proves: &'static str, check: fn(Counts) -> Result<Outcome, Error>) -> Step {
    Step { name, proves, work: Work::Own(check) }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn every_check_has_a_name_of_its_own() {
        let mut names: Vec<&str> = ORDER.iter().chain(WORKS).chain(BEYOND).map(|step| step.name).collect();
        names.sort_unstable();
        names.dedup();
        assert_eq!(names.len(), ORDER.len() + WORKS.len() + BEYOND.len());
    }

    #[test]
    fn every_check_has_its_turn_and_only_the_two_share_one() {
        let all = Test { all: true, only: Vec::new(), list: false }.chosen().unwrap();
        let rounds = rounds(&all);
        assert_eq!(rounds.iter().map(Vec::len).sum::<usize>(), all.len());
        let shared: Vec<&str> =
            rounds.iter().filter(|round| round.len() > 1).flatten().map(|step| step.name).collect();
        assert_eq!(shared, ["screens", "phones"]);
        let one = Test { all: false, only: vec!["phones".to_owned()], list: false }.chosen().unwrap();
        assert_eq!(super::rounds(&one).len(), 1);
    }

    #[test]
    fn a_misspelled_check_is_refused() {
        let wrong = Test { all: false, only: vec!["clipy".to_owned()], list: false };
        assert!(wrong.chosen().is_err());
    }
}
