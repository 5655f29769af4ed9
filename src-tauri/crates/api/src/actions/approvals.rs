//! Asking for an approval, the answer line by line, its withdrawal.

use crate::entry::{ApprovalEntry, ApprovalRequestEntry, ApprovalWithdrawalEntry, EstimateWaiverEntry, Form};
use crate::view::JobView;
use crate::{ApiError, Workshop, typed};
use chrono::DateTime;
use job::event::{ApprovalKept, ApprovalRequested, ApprovalWithdrawn, EstimateWaived, IntakeKept, Signer};
use job::{Event, Job, Refused};
use money::{Cents, LineAnswer, Marks};

impl Workshop {
    /// Keeps that the customer was asked, with the message as it went out.
    ///
    /// # Errors
    /// No estimate, an older version, an empty message or one that is too long.
    pub fn approval_request(
        &self,
        form: impl Into<Form>,
        entry: &ApprovalRequestEntry,
    ) -> Result<JobView, ApiError> {
        let (text, to) = (typed::required("text", &entry.text)?, typed::text("to", &entry.to)?);
        let language = typed::one_of("language", &entry.language, &["", "en", "es"])?;
        self.act(&form.into(), |loaded| {
            let latest = loaded.job.latest_estimate().ok_or_else(|| ApiError::refused("no_estimate"))?;
            let (version, estimate, channel) = (entry.version, latest.record, entry.channel);
            Ok(Event::ApprovalRequested(ApprovalRequested { version, estimate, channel, language, text, to }))
        })
    }

    /// Keeps the customer's answer to the latest version.
    ///
    /// # Errors
    /// No estimate, an older version, no name, no signature in person, no number by phone, no message in writing; once,
    /// somebody who was not named at check-in.
    pub fn approval_keep(&self, form: impl Into<Form>, entry: &ApprovalEntry) -> Result<JobView, ApiError> {
        let signature = signature(&entry.signature)?;
        let (name, words) = (typed::required("name", &entry.name)?, typed::text("words", &entry.words)?);
        let conditions = typed::text("conditions", &entry.conditions)?;
        let (number_called, called_by) = (
            typed::text("number_called", &entry.number_called)?,
            typed::text("called_by", &entry.called_by)?,
        );
        let photos = typed::photos(&entry.photos)?;
        let called_by = match (entry.channel, called_by.is_empty()) {
            (job::event::Channel::Phone, true) => self.shop()?.technician,
            _ => called_by,
        };
        self.act(&form.into(), |loaded| {
            let given_at = self.given_at(&entry.given_at)?;
            let latest = loaded.job.latest_estimate().ok_or_else(|| ApiError::refused("no_estimate"))?;
            let answers = answers(&entry.answers);
            let amount = limit(&entry.limit, self.marks(), approved(&loaded.job, &answers)?)?;
            Ok(Event::ApprovalKept(ApprovalKept {
                version: entry.version,
                estimate: latest.record,
                amount,
                given_at,
                answers,
                signer: signer(&loaded.job.intake, &name, entry.signer_confirmed)?,
                channel: entry.channel,
                old_parts: entry.old_parts,
                photos,
                name,
                words,
                conditions,
                number_called,
                called_by,
                signature,
            }))
        })
    }

    /// Keeps that the customer does without the written estimate.
    ///
    /// # Errors
    /// A region whose rule knows no waiver, a second one, no name, no words, no signature in person, a waiver by phone.
    pub fn estimate_waive(
        &self,
        form: impl Into<Form>,
        entry: &EstimateWaiverEntry,
    ) -> Result<JobView, ApiError> {
        let event = Event::EstimateWaived(EstimateWaived {
            channel: entry.channel,
            name: typed::required("name", &entry.name)?,
            words: typed::required("words", &entry.words)?,
            signature: signature(&entry.signature)?,
            photos: typed::photos(&entry.photos)?,
        });
        self.act(&form.into(), |_| Ok(event))
    }

    /// When a yes came, to the minute: now where nobody typed it, and never in the future.
    fn given_at(&self, entered: &str) -> Result<String, ApiError> {
        let now = self.clock.moment().wall;
        let now = DateTime::parse_from_rfc3339(&now);
        let now =
            now.map_err(|_| ApiError::Refused(Refused::because("not_a_time").with("field", "given_at")))?;
        let given = typed::local_time("given_at", self.clock.as_ref(), entered)?;
        let given = match given {
            None => now,
            Some(given) if given > now => {
                return Err(ApiError::Refused(Refused::because("time_in_future").with("field", "given_at")));
            }
            Some(given) => given,
        };
        Ok(given.format("%Y-%m-%dT%H:%M:00%:z").to_string())
    }

    /// Keeps that the customer takes the approval in force back.
    ///
    /// # Errors
    /// Another approval, no name, something billed already.
    pub fn approval_withdraw(
        &self,
        form: impl Into<Form>,
        entry: &ApprovalWithdrawalEntry,
    ) -> Result<JobView, ApiError> {
        let event = Event::ApprovalWithdrawn(ApprovalWithdrawn {
            approval: typed::record(&entry.approval)?,
            channel: entry.channel,
            name: typed::required("name", &entry.name)?,
            words: typed::text("words", &entry.words)?,
            photos: typed::photos(&entry.photos)?,
        });
        self.act(&form.into(), |_| Ok(event))
    }
}

/// All of it approved is kept as nothing said to single lines.
fn answers(entered: &[LineAnswer]) -> Vec<LineAnswer> {
    if entered.iter().all(|answer| *answer == LineAnswer::Approved) { Vec::new() } else { entered.to_vec() }
}

/// What the approved lines come to; nothing where none is.
fn approved(job: &Job, answers: &[LineAnswer]) -> Result<Cents, ApiError> {
    let latest = job.latest_estimate().ok_or_else(|| ApiError::refused("no_estimate"))?;
    if !answers.is_empty() && !answers.contains(&LineAnswer::Approved) {
        return Ok(Cents::ZERO);
    }
    Ok(job::approved_total(&latest.event, answers)?)
}

/// What was said, or what the lines come to where nothing was. One above that is refused by the rules: it limits nothing,
/// and may be another estimate's.
fn limit(entered: &str, home: Option<Marks>, total: Cents) -> Result<Cents, ApiError> {
    if entered.trim().is_empty() || total == Cents::ZERO {
        Ok(total)
    } else {
        typed::named("limit", typed::price(entered, home))
    }
}

/// Who it was, held against what was said at check-in; asked about once where it is nobody who was named.
fn signer(intake: &IntakeKept, name: &str, confirmed: bool) -> Result<Option<Signer>, ApiError> {
    let words = |text: &str| text.split_whitespace().map(str::to_lowercase).collect::<Vec<_>>().join(" ");
    let is = |known: &Option<String>| known.as_deref().is_some_and(|known| words(known) == words(name));
    let named = |known: &Option<String>| known.as_deref().is_some_and(|known| !known.trim().is_empty());
    if is(&intake.customer) {
        return Ok(Some(Signer::Customer));
    }
    if is(&intake.approver_name) {
        return Ok(Some(Signer::Approver));
    }
    if !named(&intake.customer) && !named(&intake.approver_name) {
        return Ok(None);
    }
    if confirmed {
        return Ok(Some(Signer::Other));
    }
    Err(ApiError::Refused(Refused::because("signer_not_named").with("name", name)))
}

/// A drawn signature: an SVG path of moves and lines only, so that nothing else can hide in it.
fn signature(path: &str) -> Result<String, ApiError> {
    let plain = path.chars().all(|c| c.is_ascii_digit() || matches!(c, 'M' | 'L' | ' ' | '.' | ',' | '-'));
    if !plain || path.len() > 100_000 {
        return Err(ApiError::Unknown { what: "signature", value: path.chars().take(40).collect() });
    }
    Ok(path.trim().to_owned())
}
