//! What the rules of the job's region demand of an estimate, a bill and the hand-over. The rules are data with sources
//! (`crate::rules`); what no source supports is unknown, and demands nothing here unless it says so.

use super::{Standing, require};
use crate::Job;
use crate::event::{Channel, EstimateKept, HandedOver, InvoiceKept, OldParts, ProgrammingRoute};
use crate::refused::{Permission, Refused};
use crate::rules::{self, Answer, RegionRules, SellerNumber};
use money::{Cents, Line, LineAnswer, LineKind};

pub(super) fn estimate(standing: &Standing<'_>, kept: &EstimateKept) -> Permission {
    let rules = of(standing.job);
    no_supplies(&rules, &kept.estimate.lines)?;
    registered(&rules, standing)
}

pub(super) fn invoice(standing: &Standing<'_>, kept: &InvoiceKept) -> Permission {
    let rules = of(standing.job);
    no_supplies(&rules, &kept.invoice.lines)?;
    registered(&rules, standing)?;
    seller_numbered(&rules, kept)?;
    provider_disclosed(standing.job, approved_lines(standing.job))
}

/// Where replaced parts are offered back, the hand-over says what became of them.
pub(super) fn handed_over(job: &Job, kept: &HandedOver) -> Permission {
    let offered = matches!(of(job).old_parts_offered, Answer::Yes | Answer::OnRequest);
    let answered = !kept.old_parts.trim().is_empty();
    require(!offered || answered || !parts_replaced(job), "old_parts_unanswered")
}

/// Whether a text can be a registration number: it has a letter or a digit.
#[must_use]
pub fn is_registration(text: &str) -> bool {
    text.chars().any(char::is_alphanumeric)
}

/// Whoever else programs the module stands as a provider in `lines`, those the customer approved. Where it isn't known
/// whether sublet work must be disclosed, it is asked for too: the customer learns nothing too much.
///
/// # Errors
/// `provider_not_disclosed`, with the provider's name.
pub fn provider_disclosed<'l>(job: &Job, lines: impl IntoIterator<Item = &'l Line>) -> Permission {
    let asked = matches!(of(job).sublet_disclosed, Answer::Yes | Answer::Unknown);
    let Some(decided) = job.programming_decision().map(|kept| &kept.event).filter(|_| asked) else {
        return Ok(());
    };
    let by_others = decided.route != ProgrammingRoute::OwnTool;
    let provider = folded(&decided.provider);
    let named = |line: &Line| line.provider.as_deref().is_some_and(|name| folded(name) == provider);
    if !by_others || lines.into_iter().any(named) {
        return Ok(());
    }
    Err(Refused::because("provider_not_disclosed").with("provider", decided.provider.trim()))
}

/// Lines that the customer approved, of every version; what was declined, put off or taken back is none of them.
pub fn approved_lines(job: &Job) -> impl Iterator<Item = &Line> {
    let holds = job.approvals.iter().filter(|approval| !job.is_withdrawn(approval));
    holds.flat_map(|approval| {
        let estimate = job.estimate_of(&approval.event);
        let lines = estimate.into_iter().flat_map(|kept| &kept.event.estimate.lines).enumerate();
        let approved = lines.filter(|(place, _)| approval.event.answer(*place) == LineAnswer::Approved);
        approved.map(|(_, line)| line)
    })
}

/// Whether parts are held until the vehicle is picked up although the customer left them to the shop or to an exchange:
/// work that was approved by phone, in a region that says so.
#[must_use]
pub fn holds_parts(job: &Job) -> bool {
    let by_phone = job.approvals.iter().any(|approval| approval.event.channel == Channel::Phone);
    let left = job.approval_in_force().is_some_and(|approval| approval.event.old_parts != OldParts::Return);
    by_phone && left && job.handed_over.is_none() && of(job).telephone_holds_parts == Answer::Yes
}

fn of(job: &Job) -> RegionRules {
    rules::of_region(&job.opened.region)
}

/// A line that names nothing but supplies can't be followed; its number is counted from 1.
fn no_supplies(rules: &RegionRules, lines: &[Line]) -> Permission {
    if rules.supplies_line != Answer::No {
        return Ok(());
    }
    match lines.iter().zip(1_usize..).find(|(line, _)| line.kind == LineKind::Supplies) {
        Some((_, number)) => Err(Refused::because("supplies_not_allowed").with("line", &number.to_string())),
        None => Ok(()),
    }
}

/// The number that stood in the job's first record, or the one that the settings hold now: a job that was opened without
/// one isn't shut by it.
fn registered(rules: &RegionRules, standing: &Standing<'_>) -> Permission {
    let asked = rules.registration_number == Answer::Yes;
    let known = is_registration(&standing.job.opened.registration) || is_registration(standing.registration);
    require(!asked || known, "no_registration_number")
}

/// The seller's number for the tax stands on the bill where the rule wants it. One that comes with being registered for the
/// tax is asked for only where tax is charged: who isn't registered has none and charges none.
fn seller_numbered(rules: &RegionRules, kept: &InvoiceKept) -> Permission {
    let by_registration = matches!(rules.locale.seller_number, SellerNumber::Vat | SellerNumber::GstHst);
    let charged = kept.totals.tax != Cents::ZERO;
    let asked = rules.seller_number_on_bill == Answer::Yes && (charged || !by_registration);
    if asked && !is_registration(&kept.seller_number) {
        let number = crate::code(&rules.locale.seller_number);
        return Err(Refused::because("no_seller_number").with("number", &number));
    }
    Ok(())
}

fn parts_replaced(job: &Job) -> bool {
    let billed = job.invoices.iter().flat_map(|kept| &kept.event.invoice.lines);
    !job.parts.is_empty() || billed.into_iter().any(|line| line.kind == LineKind::Part)
}

/// A name as it is compared: case and spaces aside.
fn folded(name: &str) -> String {
    name.split_whitespace().collect::<Vec<_>>().join(" ").to_lowercase()
}
