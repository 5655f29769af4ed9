//! Every attempt at programming a module with the decision that it was made under, and the sum of the bills against the
//! sum of the quotes. A session that failed and was billed stays in all of them.

use crate::event::{ProgrammingDecided, ProgrammingOutcome, ProgrammingReported};
use crate::{Job, Kept};
use evidence::Digest;
use money::{Cents, MoneyError};
use std::collections::BTreeSet;

/// An attempt in the order it was kept, from 1.
#[derive(Clone, Debug, PartialEq)]
pub struct Attempt {
    /// Running number.
    pub number: u32,
    /// What came of it.
    pub kept: Kept<ProgrammingReported>,
    /// Record of the decision in force when it was made; nothing where none could be used.
    pub decided: Option<Digest>,
    /// Record that corrects this one.
    pub corrected_by: Option<Digest>,
}

/// What the attempts of a job cost.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct ProgrammingCost {
    /// What was quoted: the quote of each decision that an attempt was made under, once however many attempts it took.
    pub quoted: Cents,
    /// What was billed for all attempts.
    pub billed: Cents,
}

/// What to do after a session that failed, in order: codes with a sentence in the words.
pub const LOST_SESSION: [&str; 6] =
    ["leave_connected", "write_down", "ask_provider", "power_cycle", "try_again", "tell_customer"];

impl ProgrammingCost {
    /// Billed minus quoted.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`] for sums beyond what can be reckoned with.
    pub fn over_quote(&self) -> Result<Cents, MoneyError> {
        self.billed.minus(self.quoted)
    }
}

impl Job {
    /// The decision now in force: the newest one.
    #[must_use]
    pub fn programming_decision(&self) -> Option<&Kept<ProgrammingDecided>> {
        self.programming.last()
    }

    /// Attempts that count: corrected ones are left out.
    pub fn valid_attempts(&self) -> impl Iterator<Item = &Attempt> {
        self.programmed.iter().filter(|attempt| attempt.corrected_by.is_none())
    }

    /// What to do after a session that failed; nothing where the last attempt that counts succeeded, or none was made.
    #[must_use]
    pub fn lost_session(&self) -> &'static [&'static str] {
        let failed = |attempt: &Attempt| attempt.kept.event.outcome != ProgrammingOutcome::Succeeded;
        if self.valid_attempts().last().is_some_and(failed) { &LOST_SESSION } else { &[] }
    }

    /// The decision that an attempt was made under.
    #[must_use]
    pub fn decision_of(&self, attempt: &Attempt) -> Option<&Kept<ProgrammingDecided>> {
        self.programming.iter().find(|decision| Some(decision.record) == attempt.decided)
    }

    /// What the attempts cost so far; nothing while there is none.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`] for sums beyond what can be reckoned with.
    pub fn programming_cost(&self) -> Result<Option<ProgrammingCost>, MoneyError> {
        let mut cost = ProgrammingCost::default();
        let mut counted = BTreeSet::new();
        for attempt in self.valid_attempts() {
            cost.billed = cost.billed.plus(attempt.kept.event.billed)?;
            if let Some(decision) = self.decision_of(attempt).filter(|one| counted.insert(one.record)) {
                cost.quoted = cost.quoted.plus(decision.event.quoted)?;
            }
        }
        Ok(self.valid_attempts().next().map(|_| cost))
    }

    /// A further attempt; one that corrects another takes its place under the same decision.
    pub(crate) fn take_attempt(&mut self, kept: Kept<ProgrammingReported>) {
        let corrects = kept.event.corrects;
        let corrected = self.programmed.iter_mut().find(|one| Some(one.kept.record) == corrects);
        let decided = match corrected {
            Some(corrected) => {
                corrected.corrected_by = Some(kept.record);
                corrected.decided
            }
            None => self.programming.last().map(|decision| decision.record),
        };
        let number = u32::try_from(self.programmed.len()).unwrap_or(u32::MAX).saturating_add(1);
        self.programmed.push(Attempt { number, kept, decided, corrected_by: None });
    }
}
