//! Estimates, hand-over; lines as they are typed.

use super::intake;
use crate::entry::{Form, HandOverEntry, LineEntry, LinesEntry, PaperKind};
use crate::view::{JobView, TotalsView};
use crate::{ApiError, Workshop, show, typed};
use job::event::{EstimateKept, HandedOver};
use job::rules::{self, RegionRules};
use job::{Event, Job};
use money::{Cents, Condition, Estimate, Line, Marks, Taxation};

impl Workshop {
    /// Totals of lines of a job while they are being typed; nothing is kept. A bill is reckoned as what was approved is.
    ///
    /// # Errors
    /// An unknown job; a line that can't be read: the error names it.
    pub fn lines_total(
        &self,
        job: &str,
        paper: PaperKind,
        entry: &LinesEntry,
    ) -> Result<TotalsView, ApiError> {
        let lines = lines(entry, self.marks())?;
        let job = &self.load(job)?.job;
        let taxation = match paper {
            PaperKind::Estimate => rules_of(job).taxation(self.shop()?.tax_rate),
            PaperKind::Invoice => self.billed_taxation(job)?,
        };
        Ok(show::totals(&taxation.totals(&lines)?, taxation))
    }

    /// Keeps a new version of the estimate.
    ///
    /// # Errors
    /// No line, or a line that can't be read.
    pub fn estimate_keep(&self, form: impl Into<Form>, entry: &LinesEntry) -> Result<JobView, ApiError> {
        let (lines, tax_rate) = (lines(entry, self.marks())?, self.shop()?.tax_rate);
        self.act(&form.into(), |loaded| {
            let version = loaded.job.next_estimate_version();
            let Taxation { rate, basis, included } = rules_of(&loaded.job).taxation(tax_rate);
            let estimate =
                Estimate { version, lines, tax_rate: rate, tax_basis: basis, tax_included: included };
            estimate.check()?;
            let totals = estimate.totals()?;
            Ok(Event::EstimateKept(EstimateKept { estimate, totals }))
        })
    }

    /// Keeps the hand-over.
    ///
    /// # Errors
    /// No invoice.
    pub fn hand_over(&self, form: impl Into<Form>, entry: &HandOverEntry) -> Result<JobView, ApiError> {
        let event = Event::HandedOver(HandedOver {
            warranty: typed::text("warranty", &entry.warranty)?,
            warranty_months: typed::count("warranty_months", &entry.warranty_months)?,
            warranty_distance: typed::count("warranty_distance", &entry.warranty_distance)?,
            odometer: intake::odometer(Some(&entry.odometer))?.unwrap_or_default(),
            old_parts: typed::text("old_parts", &entry.old_parts)?,
            photos: typed::photos(&entry.photos)?,
        });
        self.act(&form.into(), |_| Ok(event))
    }
}

/// Rules that held when the job was opened.
pub(crate) fn rules_of(job: &Job) -> RegionRules {
    rules::of_region(&job.opened.region)
}

/// Lines as typed; an error names its line, from 1.
pub(crate) fn lines(entry: &LinesEntry, home: Option<Marks>) -> Result<Vec<Line>, ApiError> {
    let numbered = entry.lines.iter().zip(1..);
    numbered
        .map(|(entry, number)| {
            line(entry, home).map_err(|error| ApiError::Line { number, error: Box::new(error) })
        })
        .collect()
}

pub(crate) fn line(entry: &LineEntry, home: Option<Marks>) -> Result<Line, ApiError> {
    let condition: Option<Condition> = match entry.condition.as_str() {
        "" => None,
        code => Some(show::from_code("condition", code)?),
    };
    let quantity = if entry.quantity.trim().is_empty() { "1" } else { entry.quantity.as_str() };
    let mut line = Line::new(
        entry.kind,
        typed::text("description", &entry.description)?,
        quantity.parse()?,
        Cents::typed(&entry.unit_price, home)?,
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
