//! Findings and the proof of the fix.

use crate::entry::{FindingEntry, ProofEntry};
use crate::reasoning::ShopReasoning;
use crate::view::JobView;
use crate::{ApiError, Workshop, show, typed};
use circuit::{CauseShare, Diagnosis, LikelihoodWord};
use evidence::Digest;
use job::event::{FindingKept, FixProven, Outcome};
use job::{Event, Job, Reasoning, permission, reasoning};

/// A cause other than the module is called from here on ("very likely"; judgement).
const CALLED_FROM: f64 = 0.90;

impl Workshop {
    /// Keeps a finding: the cause that is called, or "not proven yet". Everything it rests on is frozen with it.
    ///
    /// # Errors
    /// No reading; a module while its gate is shut; a cause that is not likely enough.
    pub fn finding_keep(&self, job: &str, entry: &FindingEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        permission::keep_finding(&loaded.job).map_err(ApiError::Refused)?;
        let reasoning = self.reasoning(&loaded)?.ok_or_else(|| ApiError::refused("choose_circuit_first"))?;
        let finding = finding(&loaded.job, reasoning, entry)?;
        self.keep_and_settle(job, &Event::FindingKept(finding), Some("finding"))?;
        self.job_view(job)
    }

    /// Keeps the pair of readings that proves the fix.
    ///
    /// # Errors
    /// Readings that aren't there, are not the same test, or are in the wrong order.
    pub fn proof_keep(&self, job: &str, entry: &ProofEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        permission::prove_fix(&loaded.job).map_err(ApiError::Refused)?;
        let (before, after) = (typed::record(&entry.before)?, typed::record(&entry.after)?);
        same_test(&loaded.job, &before, &after)?;
        let event = FixProven { before, after, note: typed::text("note", &entry.note)? };
        self.keep_and_settle(job, &Event::FixProven(event), Some("proof"))?;
        self.job_view(job)
    }
}

fn finding(job: &Job, shop: ShopReasoning, entry: &FindingEntry) -> Result<FindingKept, ApiError> {
    let reasoning = without_money(shop.reasoning);
    let called = called_cause(&reasoning.diagnosis, &entry.cause)?;
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

/// The cause that may be called, `None` for "not proven".
fn called_cause<'a>(diagnosis: &'a Diagnosis, id: &str) -> Result<Option<&'a CauseShare>, ApiError> {
    if id.is_empty() {
        return Ok(None);
    }
    let cause = diagnosis
        .causes
        .iter()
        .find(|cause| cause.id == id)
        .ok_or_else(|| ApiError::Unknown { what: "cause", value: id.to_owned() })?;
    let open = match &cause.module {
        Some(module) => diagnosis.modules.iter().any(|m| m.module == *module && m.may_be_called),
        None => called_probability(diagnosis, cause) >= CALLED_FROM,
    };
    match (open, &cause.module) {
        (true, _) => Ok(Some(cause)),
        (false, Some(_)) => Err(ApiError::refused("module_not_proven")),
        (false, None) => Err(ApiError::refused("cause_not_proven")),
    }
}

/// Probability of the cause together with those that no reading can tell from it; of a module, of the whole module.
fn called_probability(diagnosis: &Diagnosis, cause: &CauseShare) -> f64 {
    if let Some(module) = &cause.module {
        return diagnosis.modules.iter().find(|m| m.module == *module).map_or(0.0, |m| m.probability);
    }
    let group = diagnosis.inseparable.iter().find(|group| group.contains(&cause.id));
    let ids: Vec<&str> = group.map_or(vec![cause.id.as_str()], |g| g.iter().map(String::as_str).collect());
    diagnosis.causes.iter().filter(|c| ids.contains(&c.id.as_str())).map(|c| c.probability).sum()
}

/// Before and after have to be the same test at the same points in the same state, in this order.
fn same_test(job: &Job, before: &Digest, after: &Digest) -> Result<(), ApiError> {
    let find = |record: &Digest| {
        job.reading(record).ok_or_else(|| ApiError::Unknown { what: "reading", value: record.to_string() })
    };
    let (before, after) = (find(before)?, find(after)?);
    let (b, a) = (&before.reading, &after.reading);
    let same =
        b.mode == a.mode && b.red == a.red && b.black == a.black && b.state == a.state && b.load == a.load;
    let same = same && b.red_pin == a.red_pin && b.black_pin == a.black_pin;
    if !same || b.test != a.test {
        return Err(ApiError::refused("not_the_same_test"));
    }
    if before.number >= after.number || before.after_repair || !after.after_repair {
        return Err(ApiError::refused("proof_in_wrong_order"));
    }
    Ok(())
}
