//! Findings and the proof of the fix.

use crate::entry::{FindingEntry, Form, ProofEntry};
use crate::shop_reasoning::ShopReasoning;
use crate::view::JobView;
use crate::{ApiError, Workshop, show, typed};
use circuit::LikelihoodWord;
use evidence::Digest;
use job::event::{FindingKept, FixProven, Outcome};
use job::finding::{called_cause, called_probability};
use job::{Event, Job, Reasoning, reasoning};

impl Workshop {
    /// Keeps a finding: the cause that is called, or "not proven yet". Everything it rests on is frozen with it.
    ///
    /// # Errors
    /// Nothing picked; no reading; a module while its gate is shut; a cause that is not likely enough.
    pub fn finding_keep(&self, form: impl Into<Form>, entry: &FindingEntry) -> Result<JobView, ApiError> {
        if entry.cause.is_empty() != entry.not_proven {
            return Err(ApiError::refused("finding_nothing_picked"));
        }
        self.act(&form.into(), |loaded| {
            let reasoning =
                self.reasoning(loaded)?.ok_or_else(|| ApiError::refused("choose_circuit_first"))?;
            Ok(Event::FindingKept(finding(&loaded.job, reasoning, entry)?))
        })
    }

    /// Keeps the pair of readings that proves the fix.
    ///
    /// # Errors
    /// Readings that aren't there, are not the same test, or are in the wrong order.
    pub fn proof_keep(&self, form: impl Into<Form>, entry: &ProofEntry) -> Result<JobView, ApiError> {
        if entry.before.is_empty() || entry.after.is_empty() {
            return Err(ApiError::refused("proof_not_a_pair"));
        }
        let (before, after) = (typed::record(&entry.before)?, typed::record(&entry.after)?);
        let event = FixProven { before, after, note: typed::text("note", &entry.note)? };
        self.act(&form.into(), |_| Ok(Event::FixProven(event)))
    }
}

fn finding(job: &Job, shop: ShopReasoning, entry: &FindingEntry) -> Result<FindingKept, ApiError> {
    let reasoning = without_money(shop.reasoning);
    let called = called_cause(&reasoning.diagnosis, &entry.cause).map_err(ApiError::Refused)?;
    let names = called.map(|cause| show::cause_name(&reasoning.circuit, cause)).unwrap_or_default();
    let probability = called.map(|cause| called_probability(&reasoning.diagnosis, cause));
    let definition = job.circuit.as_ref().map(|c| c.event.definition.as_bytes()).unwrap_or_default();
    Ok(FindingKept {
        outcome: match called {
            None => Outcome::NotProven,
            Some(cause) if cause.module.is_some() => Outcome::ModuleCalled,
            Some(_) => Outcome::CauseCalled,
        },
        cause: entry.cause.clone(),
        cause_en: names.en,
        cause_es: names.es,
        probability: probability.map(|p| format!("{p:.4}")).unwrap_or_default(),
        likelihood: probability.map(|p| show::likelihood(LikelihoodWord::of(p))).unwrap_or_default(),
        words: typed::text("words", &entry.words)?,
        engine: reasoning.diagnosis.engine.clone(),
        circuit: reasoning.circuit.id.clone(),
        circuit_sha256: Digest::of(definition),
        readings: reasoning::readings_that_count(job).map(|r| r.record).collect(),
        closed_jobs: shop.closed_jobs,
        result: reasoning.diagnosis.frozen()?,
    })
}

/// A finding goes to customers and insurers: what the shop's time and parts cost is none of its business.
fn without_money(mut reasoning: Reasoning) -> Reasoning {
    reasoning.diagnosis.test_or_buy.clear();
    reasoning.diagnosis.next.iter_mut().for_each(|next| next.expected_cents = None);
    reasoning
}
