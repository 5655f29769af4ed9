//! What the customer agreed to, as it stands: which version is asked about, which answer holds.

use crate::event::{ApprovalKept, EstimateKept};
use crate::{Job, Kept};
use money::{AnsweredLine, Cents, Line, MoneyError};

impl Job {
    /// The approval in force: the newest that approves anything and was not taken back. What was approved once stays
    /// approved until more is, or until it is withdrawn.
    #[must_use]
    pub fn approval_in_force(&self) -> Option<&Kept<ApprovalKept>> {
        self.approvals.iter().rfind(|kept| kept.event.approves() && !self.is_withdrawn(kept))
    }

    /// Was this approval taken back?
    #[must_use]
    pub fn is_withdrawn(&self, approval: &Kept<ApprovalKept>) -> bool {
        self.withdrawn.contains_key(&approval.record)
    }

    /// The version of the estimate that an approval answers.
    #[must_use]
    pub fn estimate_of(&self, approval: &ApprovalKept) -> Option<&Kept<EstimateKept>> {
        self.estimates.iter().find(|estimate| estimate.record == approval.estimate)
    }

    /// The answer to the latest version of the estimate; nothing while none came or the last was taken back.
    #[must_use]
    pub fn latest_answer(&self) -> Option<&Kept<ApprovalKept>> {
        let latest = self.latest_estimate()?;
        let answer = self.approvals.iter().rfind(|kept| kept.event.estimate == latest.record)?;
        (!self.is_withdrawn(answer)).then_some(answer)
    }

    /// True when something of the latest version of the estimate is approved.
    #[must_use]
    pub fn latest_estimate_is_approved(&self) -> bool {
        self.latest_answer().is_some_and(|answer| answer.event.approves())
    }

    /// True when the customer said something to the latest version of the estimate, be it no.
    #[must_use]
    pub fn latest_estimate_is_answered(&self) -> bool {
        let latest = self.latest_estimate();
        latest.is_some_and(|latest| self.approvals.iter().any(|kept| kept.event.estimate == latest.record))
    }

    /// The lines of the version in force with what was said to each; empty while nothing is approved.
    #[must_use]
    pub fn agreed_lines(&self) -> Vec<AnsweredLine<'_>> {
        let Some(approval) = self.approval_in_force() else { return Vec::new() };
        let Some(estimate) = self.estimate_of(&approval.event) else { return Vec::new() };
        answered(&estimate.event.estimate.lines, &approval.event)
    }
}

/// Lines with what an approval says to each.
fn answered<'a>(lines: &'a [Line], approval: &ApprovalKept) -> Vec<AnsweredLine<'a>> {
    let numbered = lines.iter().enumerate();
    numbered.map(|(place, line)| AnsweredLine { line, answer: approval.answer(place) }).collect()
}

/// What the approved lines of a version come to, with their tax.
///
/// # Errors
/// Those of [`money::Estimate::totals`], among them deductions larger than what was approved.
pub fn approved_total(estimate: &EstimateKept, answers: &[money::LineAnswer]) -> Result<Cents, MoneyError> {
    if answers.is_empty() {
        return Ok(estimate.totals.total);
    }
    let lines = estimate.estimate.lines.iter().zip(answers);
    let approved = lines.filter(|(_, answer)| **answer == money::LineAnswer::Approved);
    let approved: Vec<Line> = approved.map(|(line, _)| line.clone()).collect();
    let estimate = money::Estimate { lines: approved, ..estimate.estimate.clone() };
    Ok(estimate.totals()?.total)
}
