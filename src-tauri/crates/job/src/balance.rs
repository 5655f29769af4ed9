//! What a job's invoices, credit notes and payments come to.

use crate::event::{CreditNoteKept, InvoiceKept, PaymentWay};
use crate::{Job, Kept};
use evidence::Digest;
use money::{Cents, Line, MoneyError};

/// What the customer owes and has paid. All amounts are at or above zero except what is due.
#[derive(Clone, Copy, Debug, Default, PartialEq, Eq)]
pub struct Balance {
    /// Sum of the invoices that stand.
    pub billed: Cents,
    /// Sum of the credit notes.
    pub credited: Cents,
    /// What the customer paid.
    pub received: Cents,
    /// What was given back.
    pub refunded: Cents,
    /// Billed less credited, received less refunded: below zero the shop owes it.
    pub due: Cents,
}

impl Balance {
    /// That of a job.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`] where sums don't fit.
    pub fn of(job: &Job) -> Result<Balance, MoneyError> {
        let billed = Cents::sum(job.standing_invoices().map(|kept| kept.event.totals.total))?;
        let credited = Cents::sum(job.credit_notes.iter().map(|kept| kept.event.totals.total))?;
        let way = |way: PaymentWay| {
            let payments = job.payments.iter().filter(move |kept| kept.event.way == way);
            Cents::sum(payments.map(|kept| kept.event.amount))
        };
        let (received, refunded) = (way(PaymentWay::Received)?, way(PaymentWay::Refunded)?);
        let due = billed.minus(credited)?.minus(received.minus(refunded)?)?;
        Ok(Balance { billed, credited, received, refunded, due })
    }

    /// What of the customer's money is with the shop.
    ///
    /// # Errors
    /// [`MoneyError::TooLarge`].
    pub fn held(&self) -> Result<Cents, MoneyError> {
        self.received.minus(self.refunded)
    }
}

impl Job {
    /// The invoice that took the place of this one. Earlier versions of the app numbered a job's invoice like the job, and a
    /// second one took the place of the first; since then no number is given twice in a job.
    #[must_use]
    pub fn replacement_of(&self, invoice: &Kept<InvoiceKept>) -> Option<&Kept<InvoiceKept>> {
        let number = &invoice.event.invoice.number;
        let later = self.invoices.iter().skip_while(|kept| kept.record != invoice.record).skip(1);
        later.filter(|kept| kept.event.invoice.number == *number).last()
    }

    /// The invoice whose place this one took, if any: the last before it with its number.
    #[must_use]
    pub fn replaced_by(&self, invoice: &Kept<InvoiceKept>) -> Option<&Kept<InvoiceKept>> {
        let number = &invoice.event.invoice.number;
        let earlier = self.invoices.iter().take_while(|kept| kept.record != invoice.record);
        earlier.filter(|kept| kept.event.invoice.number == *number).last()
    }

    /// Invoices that none took the place of.
    pub fn standing_invoices(&self) -> impl Iterator<Item = &Kept<InvoiceKept>> {
        self.invoices.iter().filter(|kept| self.replacement_of(kept).is_none())
    }

    /// The newest invoice.
    #[must_use]
    pub fn latest_invoice(&self) -> Option<&Kept<InvoiceKept>> {
        self.invoices.last()
    }

    /// An invoice by its record.
    #[must_use]
    pub fn invoice(&self, record: &Digest) -> Option<&Kept<InvoiceKept>> {
        self.invoices.iter().find(|kept| kept.record == *record)
    }

    /// Credit notes on an invoice.
    pub fn credits_of<'a>(&'a self, invoice: &Digest) -> impl Iterator<Item = &'a Kept<CreditNoteKept>> {
        let invoice = *invoice;
        self.credit_notes.iter().filter(move |kept| kept.event.invoice == invoice)
    }

    /// Every line that was billed on an invoice that stands, and every line of it that was credited.
    #[must_use]
    pub fn billed_lines(&self) -> (Vec<&Line>, Vec<&Line>) {
        let billed = self.standing_invoices().flat_map(|kept| &kept.event.invoice.lines);
        let credited = self.credit_notes.iter().flat_map(|kept| &kept.event.lines);
        (billed.collect(), credited.collect())
    }
}
