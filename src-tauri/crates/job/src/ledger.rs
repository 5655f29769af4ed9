//! A job's records as postings of the shop's ledger.

use crate::event::{Event, PaymentWay, SupplierStep};
use crate::{Job, TimelineRecord};
use money::MoneyError;
use money::ledger::{self, CostKind, Movement, Posting};

impl Job {
    /// Everything that moved money, in the order of its records. What nobody signed for moves nothing.
    ///
    /// Quotes and agreements promise money and move none. A received part is billed by its receipt; whether it was paid
    /// stands in a supplier's step.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`] where an amount doesn't fit.
    pub fn postings(&self) -> Result<Vec<Posting>, MoneyError> {
        let mut postings = Vec::new();
        for record in self.timeline.iter().filter(|record| record.vouched) {
            postings.extend(self.posting(record)?);
        }
        Ok(postings)
    }

    fn posting(&self, record: &TimelineRecord) -> Result<Option<Posting>, MoneyError> {
        let Some(event) = &record.event else { return Ok(None) };
        let day = record.wall.get(..10).unwrap_or_default();
        let (day, reference, words, movements) = match event {
            Event::InvoiceKept(e) => {
                (day, e.invoice.number.as_str(), "invoice".to_owned(), ledger::invoice(&e.totals)?)
            }
            Event::CreditNoteKept(e) => {
                (day, e.number.as_str(), "credit note".to_owned(), ledger::credit(&e.totals)?)
            }
            Event::PaymentKept(e) => {
                let (words, movements) = match e.way {
                    PaymentWay::Received => ("payment", ledger::payment(e.means, e.amount)?),
                    PaymentWay::Refunded => ("refund", ledger::refund(e.means, e.amount)?),
                };
                (e.day.as_str(), e.reference.as_str(), words.to_owned(), movements)
            }
            Event::PartReceived(e) => {
                let mut movements = ledger::bill(&e.supplier, CostKind::Part, e.price)?;
                movements.extend(ledger::bill(&e.supplier, CostKind::Core, e.core_charge)?);
                (day, e.part_number.as_str(), e.description.clone(), movements)
            }
            Event::ProgrammingReported(e) => {
                let provider = self.programmed_by(record);
                let movements = match provider.is_empty() {
                    true => Vec::new(),
                    false => ledger::bill(&provider, CostKind::Programming, e.billed)?,
                };
                (day, "", "programming".to_owned(), movements)
            }
            Event::SupplierStepKept(e) => {
                let movements = supplier_step(e)?;
                (e.day.as_str(), e.reference.as_str(), e.description.clone(), movements)
            }
            _ => return Ok(None),
        };
        let (day, reference) = (day.to_owned(), reference.to_owned());
        let description = format!("job {}: {words}", self.opened.number);
        Ok((!movements.is_empty()).then_some(Posting { day, reference, description, movements }))
    }

    /// Who programmed in an attempt; nobody for the own tool, and for an attempt that was corrected.
    pub(crate) fn programmed_by(&self, record: &TimelineRecord) -> String {
        let attempt = self.valid_attempts().find(|attempt| attempt.kept.record == record.record);
        let decision = attempt.and_then(|attempt| self.decision_of(attempt));
        decision.map(|decided| decided.event.provider.clone()).unwrap_or_default()
    }
}

fn supplier_step(step: &crate::event::SupplierStepKept) -> Result<Vec<Movement>, MoneyError> {
    match (step.step, step.means) {
        (SupplierStep::Billed, _) => ledger::bill(&step.supplier, step.what, step.amount),
        (SupplierStep::Credited, _) => ledger::supplier_credit(&step.supplier, step.what, step.amount),
        (SupplierStep::Paid, Some(means)) => ledger::supplier_paid(&step.supplier, means, step.amount),
        _ => Ok(Vec::new()),
    }
}
