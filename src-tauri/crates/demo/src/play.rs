use crate::PlayError;
use crate::names::Names;
use crate::script::{Action, Expectation, Script, Step};
use api::entry::{ApprovalWithdrawalEntry, CreditNoteEntry, PhotoEntry, ReadingEntry, SeenEntry};
use api::view::JobView;
use api::world::SetClock;
use api::{ApiError, Workshop};
use chrono::{DateTime, FixedOffset};

/// Where jobs are played.
pub struct Stage<'a> {
    /// The workshop they are kept in.
    pub workshop: &'a Workshop,
    /// Its clock, set by every step.
    pub clock: &'a SetClock,
    /// The bytes of a photo by its name in the script.
    pub photo: &'a dyn Fn(&str) -> std::io::Result<Vec<u8>>,
}

/// What a step came to.
pub enum Happened<'a> {
    /// The job as it is now; for the first time when it was opened.
    Done(&'a JobView),
    /// A refusal that the file asks for.
    Refused(&'a Step, ApiError),
}

impl Stage<'_> {
    /// Plays one job from its opening to the last step; `watch` is told of every step and may stop it with an error.
    ///
    /// # Errors
    /// [`PlayError`]; the job stays as far as it came.
    pub fn play(
        &self,
        script: &Script,
        watch: &mut dyn FnMut(Happened) -> Result<(), PlayError>,
    ) -> Result<JobView, PlayError> {
        if let Some(first) = script.steps.first() {
            self.clock.set(moment(1, first)?);
        }
        let mut view = self.workshop.job_open()?;
        let mut names = Names::default();
        watch(Happened::Done(&view))?;
        for (index, step) in script.steps.iter().enumerate() {
            let number = index.saturating_add(1);
            self.clock.set(moment(number, step)?);
            names.job(&view);
            if let Some(refused) = self.step(&view.job, number, step, &mut names)? {
                watch(Happened::Refused(step, refused))?;
            }
            view = self.workshop.job_view(&view.job)?;
            if let Action::Expect(expected) = &step.action {
                check(number, expected, &view)?;
            }
            watch(Happened::Done(&view))?;
        }
        Ok(view)
    }

    /// A step has to succeed, or to be refused with the code its file names; then the refusal is given back.
    fn step(
        &self,
        job: &str,
        number: usize,
        step: &Step,
        names: &mut Names,
    ) -> Result<Option<ApiError>, PlayError> {
        let action = names.resolve(&step.action)?;
        let done = match &action {
            Action::PhotoKeep(photo) => {
                let bytes = (self.photo)(&photo.file)
                    .map_err(|source| PlayError::Photo { file: photo.file.clone(), source })?;
                let entry = PhotoEntry { job: job.to_owned(), purpose: photo.purpose, live: false };
                self.workshop.photo_keep(&entry, &bytes).map(|kept| names.photo(&photo.file, &kept.sha256))
            }
            other => act(self.workshop, job, other),
        };
        match (done, &step.refused) {
            (Ok(()), None) => Ok(None),
            (Err(error), Some(code)) if error.code() == code => Ok(Some(error)),
            (Ok(()), Some(code)) => {
                Err(otherwise(number, &step.action, format!("should have been refused with {code}")))
            }
            (Err(error), _) => {
                Err(PlayError::Refused { step: number, what: name(&step.action), error: Box::new(error) })
            }
        }
    }
}

fn act(workshop: &Workshop, job: &str, action: &Action) -> Result<(), ApiError> {
    match action {
        Action::IntakeKeep(e) => workshop.intake_keep(job, e),
        Action::MeterChoose(e) => workshop.meter_choose(job, e),
        Action::CircuitChoose(id) => workshop.circuit_choose(job, id),
        Action::PinKeep(e) => workshop.pin_keep(job, e),
        Action::CautionAcknowledge(code) => workshop.caution_acknowledge(job, code),
        Action::TestUnreachable(test) => workshop.test_unreachable(job, test, true),
        Action::ReadingKeep(e) => workshop.reading_keep(job, &seen_on_photo(workshop, job, e)?),
        Action::ReadingCorrect(e) => workshop.reading_correct(job, e),
        Action::FindingKeep(e) => workshop.finding_keep(job, e),
        Action::EstimateKeep(e) => workshop.estimate_keep(job, e),
        Action::ApprovalKeep(e) => workshop.approval_keep(job, e),
        Action::ApprovalRequest(e) => workshop.approval_request(job, e),
        Action::ApprovalWithdraw(e) => {
            let approvals = workshop.job_view(job)?.approvals;
            let holds = approvals.iter().find(|one| one.in_force).map(|one| one.record.clone());
            let approval = Some(e.approval.clone()).filter(|named| !named.is_empty()).or(holds);
            let approval = approval.unwrap_or_default();
            workshop.approval_withdraw(job, &ApprovalWithdrawalEntry { approval, ..e.clone() })
        }
        Action::CreditNoteKeep(e) => {
            let latest = workshop.job_view(job)?.invoices.last().map(|one| one.record.clone());
            let named = Some(e.invoice.clone()).filter(|named| !named.is_empty());
            let invoice = named.or(latest).unwrap_or_default();
            workshop.credit_note_keep(job, &CreditNoteEntry { invoice, ..e.clone() })
        }
        Action::PaymentKeep(e) => workshop.payment_keep(job, e),
        Action::SupplierStepKeep(e) => workshop.supplier_step_keep(job, e),
        Action::PartReceive(e) => workshop.part_receive(job, e),
        Action::ProgrammingDecide(e) => workshop.programming_decide(job, e),
        Action::ProgrammingReport(e) => workshop.programming_report(job, e),
        Action::ProofKeep(e) => workshop.proof_keep(job, e),
        Action::InvoiceKeep(e) => workshop.invoice_keep(job, e),
        Action::HandOver(e) => workshop.hand_over(job, e),
        Action::PhotoKeep(_) | Action::Expect(_) => return Ok(()),
    }
    .map(|_| ())
}

/// As at the vehicle: the photo is read, and its number taken over where it is the one that was entered.
fn seen_on_photo(workshop: &Workshop, job: &str, entry: &ReadingEntry) -> Result<ReadingEntry, ApiError> {
    let Some(photo) = entry.photos.last().cloned() else { return Ok(entry.clone()) };
    let asked = SeenEntry { photo, mode: entry.mode, unit: entry.unit, range: entry.range.clone() };
    let proposal = workshop.photo_seen(job, &asked)?;
    let photo_taken = !proposal.value.is_empty() && proposal.value == entry.value;
    Ok(ReadingEntry { photo_taken, ..entry.clone() })
}

fn check(number: usize, expected: &Expectation, view: &JobView) -> Result<(), PlayError> {
    let diagnosis = view.diagnosis.as_ref();
    let module = diagnosis.is_some_and(|d| d.modules.iter().any(|m| m.may_be_called));
    let leading = diagnosis.and_then(|d| d.causes.first()).map(|c| c.id.clone()).unwrap_or_default();
    let offered: Vec<String> =
        diagnosis.map(|d| d.next.iter().take(3).map(|n| n.test.clone()).collect()).unwrap_or_default();
    let problem = if expected.module_may_be_called.is_some_and(|want| want != module) {
        format!("the module may {}be called", if module { "" } else { "not " })
    } else if expected.leading_cause.as_ref().is_some_and(|want| *want != leading) {
        format!("the leading cause is {leading}")
    } else if expected.offered.as_ref().is_some_and(|want| !offered.contains(want)) {
        format!("the tests offered are {}", offered.join(", "))
    } else if expected.stage.as_ref().is_some_and(|want| *want != view.stage) {
        format!("the stage is {}", view.stage)
    } else {
        return Ok(());
    };
    Err(PlayError::Otherwise { step: number, what: "expect".to_owned(), problem })
}

fn name(action: &Action) -> String {
    let value = serde_json::to_value(action).ok();
    value.and_then(|v| v.get("do").and_then(|d| d.as_str().map(str::to_owned))).unwrap_or_default()
}

fn otherwise(step: usize, action: &Action, problem: String) -> PlayError {
    PlayError::Otherwise { step, what: name(action), problem }
}

fn moment(number: usize, step: &Step) -> Result<DateTime<FixedOffset>, PlayError> {
    let no_time = |error| otherwise(number, &step.action, format!("{:?} is not a time: {error}", step.at));
    DateTime::parse_from_rfc3339(&step.at).map_err(no_time)
}
