//! What another module would cost: the price of the module of this job, and of no other part.

use super::{Source, Sourced};
use crate::event::{FindingKept, Outcome, PartReceived};
use crate::{Job, Kept};
use circuit::Circuit;
use money::{Cents, Line, LineKind};

/// The price of a job's module.
pub struct ModulePrice;

impl ModulePrice {
    /// Price of a module while nobody says one (judgment).
    pub const ASSUMED: Cents = Cents(60_000);

    /// The price of the job's module as its records say it: what was paid for the module that came, else the module's line
    /// of the approved estimate. Nothing where no record names a module: another part's price says nothing about it.
    #[must_use]
    pub fn of(job: &Job) -> Option<Sourced<Cents>> {
        let received = received(job).map(|value| Sourced { value, source: Source::Received });
        received.or_else(|| approved(job).map(|value| Sourced { value, source: Source::Estimate }))
    }
}

/// Is a received part the circuit's module?
pub(crate) fn is_module(job: &Job, part: &Kept<PartReceived>) -> bool {
    let only = job.parts.len() == 1 && module_was_called(job);
    !part.event.module.is_empty() || names_module(job, &part.event.description) || only
}

fn received(job: &Job) -> Option<Cents> {
    let marked = job.parts.iter().rfind(|part| !part.event.module.is_empty());
    let named = || job.parts.iter().rfind(|part| names_module(job, &part.event.description));
    // Of an older job: the module was called, and one part came.
    let only = || job.parts.first().filter(|_| module_was_called(job) && job.parts.len() == 1);
    marked.or_else(named).or_else(only).map(|part| part.event.price)
}

/// The module's line on the estimate that was approved last.
fn approved(job: &Job) -> Option<Cents> {
    let approval = job.approval_in_force()?;
    let estimate = job.estimates.iter().find(|estimate| estimate.record == approval.event.estimate)?;
    module_line(job, &estimate.event.estimate.lines)?.amount().ok().filter(|amount| amount.0 >= 0)
}

/// The line for the module among the lines of an estimate: the one whose words name it, or the only part where the module
/// was called.
pub(crate) fn module_line<'a>(job: &Job, lines: &'a [Line]) -> Option<&'a Line> {
    let parts = || lines.iter().filter(|line| line.kind == LineKind::Part);
    let named = parts().find(|line| names_module(job, &line.description));
    named.or_else(|| parts().next().filter(|_| module_was_called(job) && parts().count() == 1))
}

/// Does a text name a module of the job's circuit? What it is stands last in English and first in Spanish: "rebuilt fan
/// module" is one, "fan module connector" and "conector del módulo del ventilador" are not.
pub(crate) fn names_module(job: &Job, text: &str) -> bool {
    let what = plain(text.split([',', ';', ':', '(', '/']).next().unwrap_or_default());
    let named = |name: &str| Some(plain(name)).filter(|name| !name.trim().is_empty());
    let names = |circuit: &std::sync::Arc<Circuit>| {
        circuit.modules.iter().any(|module| {
            named(&module.name.en).is_some_and(|name| what.ends_with(&name))
                || named(&module.name.es).is_some_and(|name| what.starts_with(&name))
        })
    };
    job.circuit_file().is_some_and(names)
}

/// Lower case words with one space around each, so that a name is found as whole words alone.
fn plain(text: &str) -> String {
    let lower = text.to_lowercase();
    let words = lower.split(|c: char| !c.is_alphanumeric()).filter(|word| !word.is_empty());
    words.fold(String::from(" "), |all, word| all + word + " ")
}

fn module_was_called(job: &Job) -> bool {
    let called = |finding: &FindingKept| finding.outcome == Outcome::ModuleCalled;
    job.findings.last().is_some_and(|finding| called(&finding.event))
}
