//! What estimates, approvals and invoices demand of each other.

use super::{approve, keep_invoice, require};
use crate::Job;
use crate::event::{ApprovalKept, Channel, EstimateKept, InvoiceKept};
use crate::refused::{Permission, Refused};
use crate::rules;

/// The next version, with at least one line.
pub(super) fn estimate(job: &Job, kept: &EstimateKept) -> Permission {
    require(!kept.estimate.lines.is_empty(), "no_lines")?;
    require(kept.estimate.version == job.next_estimate_version(), "not_the_latest_version")
}

/// The latest version for its own total, with a signature where the customer is here.
pub(super) fn approval(job: &Job, kept: &ApprovalKept) -> Permission {
    approve(job)?;
    let latest = job.latest_estimate().ok_or_else(|| Refused::because("no_estimate"))?;
    let same = latest.event.estimate.version == kept.version
        && latest.record == kept.estimate
        && latest.event.totals.total == kept.amount;
    require(same, "not_the_latest_version")?;
    if kept.name.is_empty() {
        return Err(Refused::because("field_empty").with("field", "name"));
    }
    if kept.channel == Channel::InPerson {
        require(!kept.signature.is_empty(), "no_signature")?;
        require(longest_stroke(&kept.signature) >= SHORTEST_STROKE, "signature_too_short")?;
    }
    Ok(())
}

/// Shortest stroke that counts as a signature, in the units of its box of 600 by 200: a dot from a stray touch doesn't.
const SHORTEST_STROKE: f64 = 40.0;

/// Length of the longest stroke of a path of moves (`M x y`) and lines (`L x y`).
fn longest_stroke(path: &str) -> f64 {
    let mut longest: f64 = 0.0;
    for stroke in path.split('M') {
        let numbers = stroke.split(|c: char| c == 'L' || c == ',' || c.is_whitespace());
        let numbers: Vec<f64> = numbers.filter_map(|number| number.parse().ok()).collect();
        let places: Vec<(f64, f64)> =
            numbers.chunks_exact(2).filter_map(|pair| Some((*pair.first()?, *pair.get(1)?))).collect();
        let steps = places.iter().zip(places.iter().skip(1));
        longest = longest.max(steps.map(|(a, b)| (b.0 - a.0).hypot(b.1 - a.1)).sum());
    }
    longest
}

/// No more than was approved and the region's margin.
pub(super) fn invoice(job: &Job, kept: &InvoiceKept) -> Permission {
    keep_invoice(job)?;
    let approval = job.approval_in_force().ok_or_else(|| Refused::because("nothing_approved"))?;
    require(!kept.invoice.lines.is_empty(), "no_lines")?;
    require(kept.approved == approval.event.amount, "job_moved")?;
    let margin = rules::of_region(&job.opened.region).margin();
    let against = kept.invoice.against(approval.event.amount, &margin);
    let over =
        against.map_err(|error| Refused::because("money_refused").with("detail", &error.to_string()))?;
    over.map_err(|over| {
        Refused::because("invoice_over_approved")
            .with("approved", &String::from(over.approved))
            .with("allowed", &String::from(over.allowed))
            .with("asked", &String::from(over.asked))
            .with("over", &String::from(over.over))
    })
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn a_dot_is_no_signature() {
        assert_eq!(longest_stroke(""), 0.0);
        assert_eq!(longest_stroke("M10 10"), 0.0);
        assert_eq!(longest_stroke("M 10,10 L 13 14"), 5.0);
        assert_eq!(longest_stroke("M0 0 L3 4 L6 8 M0 0L1 0"), 10.0);
    }
}
