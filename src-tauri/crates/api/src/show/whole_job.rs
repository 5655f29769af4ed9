//! A whole job for the screen.

use super::small;
use crate::act::Loaded;
use crate::actions::estimates;
use crate::view::*;
use crate::{ApiError, Workshop, show};
use job::event::{OdometerUnit, Outcome, PhotoPurpose};
use job::own_lines::Blamed;
use job::rules::Locale;
use job::{Job, Kept, Reasoning, Stage, ToProve, rule};
use std::collections::BTreeMap;

impl Workshop {
    /// Everything of a job, computed from what was loaded.
    ///
    /// # Errors
    /// A store that can't be read.
    pub(crate) fn show_job(&self, loaded: &Loaded) -> Result<JobView, ApiError> {
        let id = loaded.log.job.as_str();
        let Loaded { log, job, .. } = loaded;
        // A circuit that the engine refuses leaves the job without reasoning; everything else of it goes on, and it is said.
        let (shop_reasoning, refused) = match self.reasoning(loaded) {
            Ok(reasoning) => (reasoning, None),
            Err(ApiError::Circuit(error)) => (None, Some(error.to_string())),
            Err(error) => return Err(error),
        };
        let reasoning = shop_reasoning.as_ref().map(|r| &r.reasoning);
        let packets = self.packets(id)?;
        Ok(JobView {
            job: id.to_owned(),
            number: job.opened.number,
            records: u32::try_from(loaded.records()).unwrap_or(u32::MAX),
            stage: Stage::of(job).code().to_owned(),
            intake: intake(job, &self.home()),
            meter: job.meter.as_ref().map(|m| show::meter("chosen", &m.event)),
            circuit: reasoning.map(|r| show::circuit_view(job, r)),
            readings: show::reading_views(job, reasoning, None),
            readings_total: small(job.readings.len()),
            readings_counted: small(job.valid_readings().count()),
            photos_total: small(job.photos.len()),
            unreachable: job.unreachable.iter().cloned().collect(),
            cautions: job.cautions.iter().cloned().collect(),
            diagnosis: shop_reasoning.as_ref().map(|r| show::diagnosis_view(job, r)),
            findings: job.findings.iter().map(finding).collect(),
            taxed_kinds: self.taxed_kinds(estimates::rules_of(job)),
            estimates: job.estimates.iter().map(|e| show::estimate(job, e)).collect(),
            approvals: job.approvals.iter().map(|a| show::approval(job, a)).collect(),
            requests: job.requests.iter().map(show::approval_request).collect(),
            approved_total: job.approval_in_force().map(|a| a.event.amount.into()).unwrap_or_default(),
            parts: job.parts.iter().map(|p| part(job, p)).collect(),
            programming: self.programming_view(loaded)?,
            proofs: job.proofs.iter().map(|kept| proof(job, reasoning, kept)).collect(),
            to_prove: reasoning.and_then(|found| to_prove(job, found)),
            telling: reasoning.and_then(|found| telling(job, found)),
            blamed: Blamed::of(job).map(blamed),
            waivers: job.waived.iter().map(show::waiver).collect(),
            waiver_draft: show::waiver_draft(),
            written_wanted: job.latest_estimate().is_some_and(|kept| {
                rule::writing::wanted(job, &kept.event) && !rule::writing::was_sent(job, kept)
            }),
            request_longest: small(rule::LONGEST_REQUEST),
            request_draft: show::request_draft(job),
            invoices: job.invoices.iter().map(|kept| show::invoice(job, kept)).collect(),
            credit_notes: job.credit_notes.iter().map(|kept| show::credit_note(job, kept)).collect(),
            payments: job.payments.iter().map(|kept| show::payment(job, kept)).collect(),
            balance: show::balance(job),
            suppliers: show::suppliers(job),
            hand_over: job.handed_over.as_ref().map(|kept| hand_over(job, kept)),
            reports: self.reports_at_hand(job).map(|r| self.report_view(r)).collect(),
            steps: show::steps(job, reasoning, packets.len()),
            next: show::next(job, reasoning),
            waiting: show::waits(job),
            packets: packets.into_iter().map(|p| self.written_file(p)).collect(),
            checkpoint: self.checkpoint_view(log, job)?,
            times: self.outside_times(job, id)?,
            timeline: show::timeline(job, None),
            advice: advice(job),
            doubts: doubts(job),
            notices: self.notices_of(id, job, refused)?,
            can: rule::permissions(job, reasoning)
                .into_iter()
                .map(|(action, verdict)| (action.to_owned(), show::verdict(verdict)))
                .collect(),
        })
    }
}

/// What the region's rules ask for and the records don't show yet. Finding the fault is work too: where a written estimate
/// is required, its amount is approved before the first test (16 CCR 3353 in California).
fn advice(job: &Job) -> Vec<String> {
    let measuring = job.circuit.is_some() || !job.readings.is_empty();
    let asked = estimates::rules_of(job).requires_written();
    let missing = measuring && asked && job.approvals.is_empty();
    let pending = job.latest_estimate().filter(|_| !job.latest_estimate_is_answered());
    let over = pending.zip(job.intake.limit()).is_some_and(|(kept, limit)| kept.event.totals.total > limit);
    let unpaid = job.handed_over.is_some() && job::Balance::of(job).is_ok_and(|balance| balance.due.0 > 0);
    // Said before the bill is refused for it.
    let undisclosed = job.invoices.is_empty()
        && rule::region::provider_disclosed(job, rule::region::approved_lines(job)).is_err();
    let advice = [
        (missing, "diagnosis_not_approved"),
        (over, "over_approver_limit"),
        (undisclosed, "provider_not_disclosed"),
        (rule::region::holds_parts(job), "parts_are_held"),
        (unpaid, "unpaid_after_hand_over"),
    ];
    advice.into_iter().filter(|(given, _)| *given).map(|(_, code)| code.to_owned()).collect()
}

fn intake(job: &Job, home: &Locale) -> IntakeView {
    let text = |field: &Option<String>| field.clone().unwrap_or_default();
    let kept = &job.intake;
    // An odometer on record without a unit is in miles; before there is one, the region's own is offered.
    let unit = if kept.odometer.is_some() { OdometerUnit::default() } else { home.distance };
    let arrival = |p: &&Kept<job::event::PhotoKept>| {
        matches!(p.event.purpose, PhotoPurpose::Arrival | PhotoPurpose::Identity)
    };
    let mut photos: Vec<_> = job.photos.values().filter(arrival).collect();
    photos.sort_by_key(|p| p.wall.clone());
    IntakeView {
        vin: text(&kept.vin),
        plate: text(&kept.plate),
        make: text(&kept.make),
        model: text(&kept.model),
        year: text(&kept.year),
        odometer: text(&kept.odometer),
        odometer_unit: kept.odometer_unit.unwrap_or(unit),
        complaint: text(&kept.complaint),
        customer: text(&kept.customer),
        phone: text(&kept.phone),
        email: text(&kept.email),
        language: text(&kept.language),
        approver: text(&kept.approver),
        approver_name: text(&kept.approver_name),
        approver_role: text(&kept.approver_role),
        approver_phone: text(&kept.approver_phone),
        approver_limit: kept.limit().map(Into::into).unwrap_or_default(),
        comes_back_from: text(&kept.comes_back_from),
        warranty: kept.warranty.unwrap_or(false),
        fault_codes: kept.fault_codes.iter().flatten().map(fault_code).collect(),
        photos: photos.into_iter().filter_map(|p| show::photo(job, &p.event.sha256)).collect(),
    }
}

fn fault_code(kept: &job::event::FaultCode) -> FaultCodeView {
    FaultCodeView {
        code: kept.written(),
        status: kept.status,
        module: kept.module.clone(),
        freeze_frame: kept.freeze_frame.clone(),
    }
}

fn finding(kept: &Kept<job::event::FindingKept>) -> FindingView {
    let event = &kept.event;
    FindingView {
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        outcome: match event.outcome {
            Outcome::CauseCalled => "cause_called",
            Outcome::ModuleCalled => "module_called",
            Outcome::NotProven => "not_proven",
        }
        .to_owned(),
        cause: BothLanguages { en: event.cause_en.clone(), es: event.cause_es.clone() },
        probability: event.probability.clone(),
        likelihood: event.likelihood.clone(),
        words: event.words.clone(),
        engine: event.engine.clone(),
    }
}

fn part(job: &Job, kept: &Kept<job::event::PartReceived>) -> PartReceiptView {
    let event = &kept.event;
    PartReceiptView {
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        supplier: event.supplier.clone(),
        part_number: event.part_number.clone(),
        description: event.description.clone(),
        condition: show::code(&event.condition),
        price: event.price.into(),
        core_charge: event.core_charge.into(),
        return_terms: event.return_terms.clone(),
        warranty: event.warranty.clone(),
        photos: show::photos(job, &event.photos),
        module: event.module.clone(),
    }
}

fn proof(job: &Job, reasoning: Option<&Reasoning>, kept: &Kept<job::event::FixProven>) -> ProofView {
    let pair = [&kept.event.before, &kept.event.after].into_iter().filter_map(|record| job.reading(record));
    ProofView {
        pair: pair.map(|reading| show::reading_view(job, reasoning, reading)).collect(),
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        before: kept.event.before.to_string(),
        after: kept.event.after.to_string(),
        note: kept.event.note.clone(),
    }
}

fn telling(job: &Job, reasoning: &Reasoning) -> Option<ReadingView> {
    let found = job::telling(job, &reasoning.diagnosis).filter(|_| !job.findings.is_empty())?;
    Some(show::reading_view(job, Some(reasoning), found))
}

fn to_prove(job: &Job, reasoning: &Reasoning) -> Option<ToProveView> {
    let found = ToProve::of(job, &reasoning.diagnosis)?;
    Some(ToProveView {
        before: show::reading_view(job, Some(reasoning), found.before),
        after: found.after.map(|reading| reading.record.to_string()).unwrap_or_default(),
    })
}

fn blamed(blamed: Blamed) -> BlamedView {
    let Blamed { en, es, is_part } = blamed;
    BlamedView { name: BothLanguages { en, es }, is_part }
}

fn hand_over(job: &Job, kept: &Kept<job::event::HandedOver>) -> HandOverView {
    let end = job::warranty_end(job);
    let day = end.as_ref().and_then(|end| end.day).map(|day| day.to_string());
    let odometer = end.as_ref().and_then(|end| end.odometer).map(|odometer| odometer.to_string());
    HandOverView {
        warranty_until: day.unwrap_or_default(),
        warranty_odometer: odometer.unwrap_or_default(),
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        warranty: kept.event.warranty.clone(),
        old_parts: kept.event.old_parts.clone(),
    }
}

/// Doubts about clocks and photos, in the order in which each first came up.
fn doubts(job: &Job) -> Vec<DoubtCount> {
    let mut places: BTreeMap<&str, usize> = BTreeMap::new();
    let mut counts: Vec<DoubtCount> = Vec::new();
    for code in job.timeline.iter().flat_map(|record| &record.doubts).map(|doubt| doubt.code()) {
        let place = *places.entry(code).or_insert(counts.len());
        match counts.get_mut(place) {
            Some(known) => known.count = known.count.saturating_add(1),
            None => counts.push(DoubtCount { code: code.to_owned(), count: 1 }),
        }
    }
    counts
}
