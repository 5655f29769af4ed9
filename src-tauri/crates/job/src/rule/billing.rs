//! What an invoice demands: every line was approved as it is billed, and all of it together comes to no more.

use super::{keep_invoice, require};
use crate::event::InvoiceKept;
use crate::refused::{Permission, Refused};
use crate::rules::{self, Answer};
use crate::{Balance, Job};
use money::{Deviation, Difference, Lenience, MoneyError};

/// Held against the approval in force, with what was billed and credited before.
pub(super) fn kept(job: &Job, kept: &InvoiceKept) -> Permission {
    keep_invoice(job)?;
    let approval = job.approval_in_force().ok_or_else(|| Refused::because("nothing_approved"))?;
    let invoice = &kept.invoice;
    require(!invoice.lines.is_empty(), "no_lines")?;
    let moved = kept.approved != approval.event.amount || invoice.estimate_version != approval.event.version;
    require(!moved, "job_moved")?;
    let agreed = job.estimate_of(&approval.event).map(|kept| kept.event.estimate.taxation());
    require(agreed.is_none_or(|agreed| agreed == invoice.taxation()), "bill_tax_differs")?;
    let known = job.invoices.iter().any(|earlier| earlier.event.invoice.number == invoice.number);
    require(!known, "invoice_number_taken")?;
    lines(job, kept)?;
    total(job, kept)
}

fn lines(job: &Job, kept: &InvoiceKept) -> Permission {
    let rules = rules::of_region(&job.opened.region);
    let per_line = rules.margin_per_line == Answer::Yes;
    let tax_included = kept.invoice.tax_included;
    let lenience = Lenience { margin: rules.margin(), per_line, tax_included };
    let (before, credited) = job.billed_lines();
    let found = money::deviations(&job.agreed_lines(), &before, &credited, &kept.invoice.lines, &lenience);
    match found.map_err(|error| refused(&error))?.first() {
        Some(deviation) => Err(differs(deviation, kept)),
        None => Ok(()),
    }
}

fn total(job: &Job, kept: &InvoiceKept) -> Permission {
    let margin = rules::of_region(&job.opened.region).margin();
    let before = Balance::of(job).and_then(|balance| balance.billed.minus(balance.credited));
    let all = before.and_then(|before| before.plus(kept.totals.total));
    let held = all.and_then(|all| money::may_bill(all, kept.approved, &margin));
    held.map_err(|error| refused(&error))?.map_err(|over| {
        Refused::because("invoice_over_approved")
            .with("approved", &String::from(over.approved))
            .with("allowed", &String::from(over.allowed))
            .with("asked", &String::from(over.asked))
            .with("over", &String::from(over.over))
    })
}

fn refused(error: &MoneyError) -> Refused {
    Refused::because("money_refused").with("detail", &error.to_string())
}

/// Names the line, what is different, and both values.
fn differs(deviation: &Deviation, kept: &InvoiceKept) -> Refused {
    let reason = match deviation.difference {
        Difference::NotEstimated => "bill_not_estimated",
        Difference::Declined => "bill_declined",
        Difference::Deferred => "bill_deferred",
        Difference::Condition => "bill_condition",
        Difference::PartNumber => "bill_part_number",
        Difference::Provider => "bill_provider",
        Difference::Taxed => "bill_taxed",
        Difference::Quantity => "bill_quantity",
        Difference::Price => "bill_price",
        Difference::BilledBefore => "bill_before",
    };
    let line = kept.invoice.lines.get(deviation.line.saturating_sub(1));
    let refused = Refused::because(reason)
        .with("line", &deviation.line.to_string())
        .with("description", line.map(|line| line.description.as_str()).unwrap_or_default());
    // Amounts have names of their own: whoever shows a refusal writes those as money.
    match deviation.difference {
        Difference::Price | Difference::BilledBefore => refused.with("approved", &deviation.approved),
        _ => refused.with("was", &deviation.approved).with("now", &deviation.billed),
    }
}
