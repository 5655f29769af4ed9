//! A job's records as postings of the shop's ledger.

use crate::event::{Event, PaymentWay, SupplierStep};
use crate::{Job, TimelineRecord};
use money::ledger::{self, CostKind, Means, Movement, Posting};
use money::{Cents, MoneyError};

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
        let mut ahead = Ahead::default();
        for record in self.timeline.iter().filter(|record| record.vouched) {
            postings.extend(self.posting(record, &mut ahead)?);
        }
        Ok(postings)
    }

    fn posting(&self, record: &TimelineRecord, ahead: &mut Ahead) -> Result<Option<Posting>, MoneyError> {
        let Some(event) = &record.event else { return Ok(None) };
        let day = record.wall.get(..10).unwrap_or_default();
        let (day, reference, words, movements) = match event {
            Event::InvoiceKept(e) => {
                let kept = self.invoices.iter().find(|kept| kept.record == record.record);
                let replaced = kept.and_then(|kept| self.replaced_by(kept));
                // What it took the place of is taken back on the same day: a journal that was handed on stays true.
                let mut movements =
                    replaced.map_or_else(|| Ok(Vec::new()), |old| ledger::credit(&old.event.totals))?;
                movements.extend(ledger::invoice(&e.totals)?);
                movements.extend(ahead.taken_up(e.totals.total)?);
                (day, e.invoice.number.as_str(), "invoice".to_owned(), movements)
            }
            Event::CreditNoteKept(e) => {
                (day, e.number.as_str(), "credit note".to_owned(), ledger::credit(&e.totals)?)
            }
            Event::PaymentKept(e) => {
                let (words, movements) = match e.way {
                    PaymentWay::Received => ahead.received(e.means, e.amount)?,
                    PaymentWay::Refunded => ("refund", ahead.refunded(e.means, e.amount)?),
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

/// What a job's customer paid ahead and no invoice has taken up.
#[derive(Default)]
struct Ahead {
    held: Cents,
    billed: bool,
}

impl Ahead {
    /// An invoice takes up what there is, as far as it goes.
    fn taken_up(&mut self, total: Cents) -> Result<Vec<Movement>, MoneyError> {
        self.billed = true;
        let taken = self.held.min(total);
        self.held = self.held.minus(taken)?;
        ledger::deposit_taken_up(taken)
    }

    /// Before the first invoice money is a deposit; later it is for what was billed.
    fn received(&mut self, means: Means, amount: Cents) -> Result<(&'static str, Vec<Movement>), MoneyError> {
        if self.billed {
            return Ok(("payment", ledger::payment(means, amount)?));
        }
        self.held = self.held.plus(amount)?;
        Ok(("deposit", ledger::deposit(means, amount)?))
    }

    /// What nothing has taken up goes back first.
    fn refunded(&mut self, means: Means, amount: Cents) -> Result<Vec<Movement>, MoneyError> {
        let back = self.held.min(amount);
        self.held = self.held.minus(back)?;
        let mut movements = ledger::deposit_back(means, back)?;
        movements.extend(ledger::refund(means, amount.minus(back)?)?);
        Ok(movements)
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
