//! Estimates, approvals, invoice, hand-over.

use crate::entry::{ApprovalEntry, HandOverEntry, LineEntry, LinesEntry};
use crate::view::{JobView, TotalsView};
use crate::{ApiError, Workshop, show, typed};
use job::event::{ApprovalKept, EstimateKept, HandedOver, InvoiceKept};
use job::rules::{self, RegionRules};
use job::{Event, Job, permission};
use money::{Condition, Estimate, Invoice, Line, LineKind};

impl Workshop {
    /// Totals of lines while they are being typed; nothing is kept.
    ///
    /// # Errors
    /// A line that can't be read; the error names it.
    pub fn lines_total(&self, entry: &LinesEntry) -> Result<TotalsView, ApiError> {
        let shop = self.shop()?;
        let basis = rules::of_region(&shop.region).tax_basis;
        Ok(show::totals(&money::totals(&lines(entry)?, shop.tax_rate, basis)?))
    }

    /// Keeps a new version of the estimate.
    ///
    /// # Errors
    /// No line, or a line that can't be read.
    pub fn estimate_keep(&self, job: &str, entry: &LinesEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        let (shop, rules) = (self.shop()?, rules_of(&loaded.job));
        let version = loaded.job.latest_estimate().map_or(0, |e| e.event.estimate.version).saturating_add(1);
        let estimate = Estimate {
            version,
            lines: some_lines(entry)?,
            tax_rate: shop.tax_rate,
            tax_basis: rules.tax_basis,
        };
        let totals = estimate.totals()?;
        let event = Event::EstimateKept(EstimateKept { estimate, totals });
        self.keep_and_settle(job, &event, Some("estimate"))?;
        self.job_view(job)
    }

    /// Keeps the customer's approval of the latest version.
    ///
    /// # Errors
    /// No estimate, an older version, no name, no signature in person.
    pub fn approval_keep(&self, job: &str, entry: &ApprovalEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        permission::approve(&loaded.job).map_err(ApiError::Refused)?;
        let latest = loaded.job.latest_estimate().ok_or_else(|| ApiError::refused("no_estimate"))?;
        if latest.event.estimate.version != entry.version {
            return Err(ApiError::refused("not_the_latest_version"));
        }
        let signature = signature(&entry.signature)?;
        if entry.channel == "in_person" && signature.is_empty() {
            return Err(ApiError::refused("no_signature"));
        }
        let event = Event::ApprovalKept(ApprovalKept {
            version: entry.version,
            estimate: latest.record,
            amount: latest.event.totals.total,
            channel: typed::one_of(
                "channel",
                &entry.channel,
                &["in_person", "phone", "text_message", "e_mail"],
            )?,
            old_parts: typed::one_of("old_parts", &entry.old_parts, &["return", "keep_by_shop", "exchange"])?,
            name: typed::required("name", &entry.name)?,
            words: typed::text("words", &entry.words)?,
            signature,
        });
        self.keep_and_settle(job, &event, Some("approval"))?;
        self.job_view(job)
    }

    /// Keeps the invoice; refused above the approved total and the region's margin.
    ///
    /// # Errors
    /// Nothing approved, too much, or a line that can't be read.
    pub fn invoice_keep(&self, job: &str, entry: &LinesEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        permission::keep_invoice(&loaded.job).map_err(ApiError::Refused)?;
        let approval = loaded.job.approval_in_force().ok_or_else(|| ApiError::refused("nothing_approved"))?;
        let (shop, rules) = (self.shop()?, rules_of(&loaded.job));
        let invoice = Invoice {
            number: loaded.job.opened.number.to_string(),
            estimate_version: approval.event.version,
            lines: some_lines(entry)?,
            tax_rate: shop.tax_rate,
            tax_basis: rules.tax_basis,
        };
        invoice.against(approval.event.amount, &rules.margin())??;
        let totals = invoice.totals()?;
        let event = Event::InvoiceKept(InvoiceKept { invoice, totals, approved: approval.event.amount });
        self.keep_and_settle(job, &event, Some("invoice"))?;
        self.job_view(job)
    }

    /// Keeps the hand-over.
    ///
    /// # Errors
    /// No invoice.
    pub fn hand_over(&self, job: &str, entry: &HandOverEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        permission::hand_over(&loaded.job).map_err(ApiError::Refused)?;
        let event = Event::HandedOver(HandedOver {
            warranty: typed::text("warranty", &entry.warranty)?,
            old_parts: typed::text("old_parts", &entry.old_parts)?,
            photos: typed::photos(&entry.photos)?,
        });
        self.keep_and_settle(job, &event, Some("hand_over"))?;
        self.job_view(job)
    }
}

/// Rules that held when the job was opened.
pub(crate) fn rules_of(job: &Job) -> RegionRules {
    rules::of_region(&job.opened.region)
}

fn some_lines(entry: &LinesEntry) -> Result<Vec<Line>, ApiError> {
    if entry.lines.is_empty() { Err(ApiError::refused("no_lines")) } else { lines(entry) }
}

fn lines(entry: &LinesEntry) -> Result<Vec<Line>, ApiError> {
    entry.lines.iter().map(line).collect()
}

fn line(entry: &LineEntry) -> Result<Line, ApiError> {
    let kind: LineKind = show::from_code("line", &entry.kind)?;
    let condition: Option<Condition> = match entry.condition.as_str() {
        "" => None,
        code => Some(show::from_code("condition", code)?),
    };
    let quantity = if entry.quantity.trim().is_empty() { "1" } else { entry.quantity.as_str() };
    let mut line = Line::new(
        kind,
        typed::text("description", &entry.description)?,
        quantity.parse()?,
        entry.unit_price.parse()?,
    );
    line.taxed = entry.taxed;
    line.condition = condition;
    line.part_number = some_text(typed::text("part_number", &entry.part_number)?);
    line.provider = some_text(typed::text("provider", &entry.provider)?);
    Ok(line)
}

fn some_text(text: String) -> Option<String> {
    (!text.is_empty()).then_some(text)
}

/// A drawn signature: an SVG path of moves and lines only, so that nothing else can hide in it.
fn signature(path: &str) -> Result<String, ApiError> {
    let plain = path.chars().all(|c| c.is_ascii_digit() || matches!(c, 'M' | 'L' | ' ' | '.' | ',' | '-'));
    if !plain || path.len() > 100_000 {
        return Err(ApiError::Unknown { what: "signature", value: path.chars().take(40).collect() });
    }
    Ok(path.trim().to_owned())
}
