//! Invoices, credit notes, payments, and what happens with suppliers.

use super::estimates::{lines, rules_of};
use super::series::Numbered;
use crate::entry::{CreditNoteEntry, Form, LinesEntry, PaymentEntry, SupplierStepEntry};
use crate::view::JobView;
use crate::{ApiError, Workshop, typed};
use chrono::{DateTime, NaiveDate};
use job::event::{CreditNoteKept, InvoiceKept, PaymentKept, SupplierStepKept};
use job::{Event, Job, Refused};
use money::{Invoice, Line, Taxation};

impl Workshop {
    /// Writes an invoice with the next number of the shop's series; refused where a line differs from what was approved, or
    /// all of it comes to more.
    ///
    /// # Errors
    /// Nothing approved, too much, a line that differs or can't be read.
    pub fn invoice_keep(&self, form: impl Into<Form>, entry: &LinesEntry) -> Result<JobView, ApiError> {
        let lines = lines(entry, self.marks())?;
        self.act(&form.into(), |loaded| {
            let approval = loaded.job.approval_in_force();
            let approval = &approval.ok_or_else(|| ApiError::refused("nothing_approved"))?.event;
            let Taxation { rate, basis, included } = self.billed_taxation(&loaded.job)?;
            let invoice = Invoice {
                number: self.next_number(Numbered::Invoice)?,
                estimate_version: approval.version,
                lines,
                tax_rate: rate,
                tax_basis: basis,
                tax_included: included,
            };
            invoice.check()?;
            let totals = invoice.totals()?;
            Ok(Event::InvoiceKept(InvoiceKept {
                invoice,
                totals,
                approved: approval.amount,
                seller_number: self.shop()?.tax_number,
            }))
        })
    }

    /// How the tax of a bill is reckoned: as on the estimate that was approved.
    pub(crate) fn billed_taxation(&self, job: &Job) -> Result<Taxation, ApiError> {
        let approval = job.approval_in_force();
        let agreed = approval.and_then(|approval| job.estimate_of(&approval.event));
        match agreed {
            Some(agreed) => Ok(agreed.event.estimate.taxation()),
            None => Ok(rules_of(job).taxation(self.shop()?.tax_rate)),
        }
    }

    /// Writes a credit note on an invoice, which itself is never changed.
    ///
    /// # Errors
    /// An unknown invoice or line, more than was billed, no reason.
    pub fn credit_note_keep(
        &self,
        form: impl Into<Form>,
        entry: &CreditNoteEntry,
    ) -> Result<JobView, ApiError> {
        let invoice = typed::record(&entry.invoice)?;
        let reason = typed::required("reason", &entry.reason)?;
        self.act(&form.into(), |loaded| {
            let unknown = || ApiError::Unknown { what: "record", value: entry.invoice.clone() };
            let billed = &loaded.job.invoice(&invoice).ok_or_else(unknown)?.event.invoice;
            let lines = credited(entry, &billed.lines)?;
            let Taxation { rate, basis, included } = billed.taxation();
            let totals = billed.taxation().totals(&lines)?;
            let number = self.next_number(Numbered::CreditNote)?;
            Ok(Event::CreditNoteKept(CreditNoteKept {
                number,
                invoice,
                lines,
                tax_rate: rate,
                tax_basis: basis,
                tax_included: included,
                totals,
                seller_number: self.shop()?.tax_number,
                reason,
            }))
        })
    }

    /// Keeps money between shop and customer.
    ///
    /// # Errors
    /// An amount that can't be read or is more than is due or was paid, a day that is none or in the future.
    pub fn payment_keep(&self, form: impl Into<Form>, entry: &PaymentEntry) -> Result<JobView, ApiError> {
        let amount = typed::named("amount", typed::price(&entry.amount, self.marks()))?;
        let (reference, note) =
            (typed::text("reference", &entry.reference)?, typed::text("note", &entry.note)?);
        let photos = typed::photos(&entry.photos)?;
        self.act(&form.into(), |loaded| {
            let day = self.past_day("day", &entry.day, &loaded.job)?;
            let (way, means) = (entry.way, entry.means);
            Ok(Event::PaymentKept(PaymentKept { way, means, amount, day, reference, note, photos }))
        })
    }

    /// Keeps one step between the shop and a supplier.
    ///
    /// # Errors
    /// No supplier, nothing said of what it is for, an amount that can't be read, a day that is none or in the future.
    pub fn supplier_step_keep(
        &self,
        form: impl Into<Form>,
        entry: &SupplierStepEntry,
    ) -> Result<JobView, ApiError> {
        let supplier = typed::required("supplier", &entry.supplier)?;
        let description = typed::required("description", &entry.description)?;
        let amount = typed::named("amount", typed::price(&entry.amount, self.marks()))?;
        let due = match entry.due.trim() {
            "" => String::new(),
            text => day("due", text)?.to_string(),
        };
        let (reference, by) = (typed::text("reference", &entry.reference)?, typed::text("by", &entry.by)?);
        let photos = typed::photos(&entry.photos)?;
        self.act(&form.into(), |_| {
            let (step, what, means) = (entry.step, entry.what, entry.means);
            let means = means.filter(|_| step == job::event::SupplierStep::Paid);
            let day = self.day_until_today("day", &entry.day)?;
            let kept = SupplierStepKept {
                step,
                supplier,
                what,
                description,
                amount,
                means,
                day,
                due,
                reference,
                by,
                photos,
            };
            Ok(Event::SupplierStepKept(kept))
        })
    }

    /// A day that is not in the future and not before the job; today where none is typed.
    fn past_day(&self, field: &'static str, typed: &str, job: &Job) -> Result<String, ApiError> {
        let day = self.day_until_today(field, typed)?;
        if job.opened_wall.get(..10).is_some_and(|opened| day.as_str() < opened) {
            let opened = job.opened_wall.get(..10).unwrap_or_default();
            return Err(ApiError::Refused(
                Refused::because("day_before_job").with("field", field).with("opened", opened),
            ));
        }
        Ok(day)
    }

    fn day_until_today(&self, field: &'static str, typed: &str) -> Result<String, ApiError> {
        let now = self.clock.moment().wall;
        let today = DateTime::parse_from_rfc3339(&now).map(|now| now.date_naive());
        let today =
            today.map_err(|_| ApiError::Refused(Refused::because("not_a_day").with("field", field)))?;
        if typed.trim().is_empty() {
            return Ok(today.to_string());
        }
        let day = day(field, typed)?;
        if day > today {
            return Err(ApiError::Refused(Refused::because("day_in_future").with("field", field)));
        }
        Ok(day.to_string())
    }
}

fn day(field: &'static str, typed: &str) -> Result<NaiveDate, ApiError> {
    let read = NaiveDate::parse_from_str(typed.trim(), "%Y-%m-%d").ok();
    let known = read.filter(|day| day.to_string() == typed.trim());
    known.ok_or_else(|| ApiError::Refused(Refused::because("not_a_day").with("field", field)))
}

/// The lines of an invoice that are credited, with as much of each as was typed.
fn credited(entry: &CreditNoteEntry, billed: &[Line]) -> Result<Vec<Line>, ApiError> {
    let one = |wanted: &crate::entry::CreditLineEntry| {
        let unknown = || ApiError::Unknown { what: "line", value: wanted.line.to_string() };
        let place = usize::try_from(wanted.line).ok().and_then(|line| line.checked_sub(1));
        let line = place.and_then(|place| billed.get(place)).ok_or_else(unknown)?;
        let quantity = match wanted.quantity.trim() {
            "" => line.quantity,
            text => typed::named("quantity", text.parse().map_err(ApiError::from))?,
        };
        Ok(Line { quantity, ..line.clone() })
    };
    let lines: Vec<Line> = entry.lines.iter().map(one).collect::<Result<_, ApiError>>()?;
    if lines.is_empty() { Err(ApiError::refused("no_lines")) } else { Ok(lines) }
}
