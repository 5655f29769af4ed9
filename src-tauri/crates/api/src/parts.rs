//! Parts received and programming.

use crate::entry::{PartEntry, ProgrammedEntry, ProgrammingEntry};
use crate::view::JobView;
use crate::{ApiError, Workshop, show, typed};
use job::event::{PartReceived, ProgrammingDecided, ProgrammingReported, WeighedRoute};
use job::measured::Measured;
use job::{Event, Job, permission, routes};
use money::Cents;
use money::programming::{self, Expectation, Route};

/// Price of a module while none is on record: what a lost module would cost again (judgement).
const ASSUMED_MODULE: Cents = Cents(60_000);

impl Workshop {
    /// Keeps a received part with its receipt.
    ///
    /// # Errors
    /// Nothing approved, no finding, no photo, an amount that can't be read.
    pub fn part_receive(&self, job: &str, entry: &PartEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        permission::receive_part(&loaded.job).map_err(ApiError::Refused)?;
        let photos = typed::photos(&entry.photos)?;
        if photos.is_empty() {
            return Err(ApiError::refused("no_receipt_photo"));
        }
        let event = Event::PartReceived(PartReceived {
            supplier: typed::required("supplier", &entry.supplier)?,
            part_number: typed::required("part_number", &entry.part_number)?,
            description: typed::required("description", &entry.description)?,
            condition: show::from_code("condition", &entry.condition)?,
            price: entry.price.parse()?,
            core_charge: amount_or_zero(&entry.core_charge)?,
            return_terms: typed::text("return_terms", &entry.return_terms)?,
            warranty: typed::text("warranty", &entry.warranty)?,
            photos,
        });
        self.keep_and_settle(job, &event, Some("part"))?;
        self.job_view(job)
    }

    /// Keeps who programs the module, with what was expected of every route.
    ///
    /// # Errors
    /// An unknown route, an amount that can't be read, no provider for work done by others.
    pub fn programming_decide(&self, job: &str, entry: &ProgrammingEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        let route = typed::one_of("route", &entry.route, &["own_tool", "remote_service", "dealer_sublet"])?;
        let provider = typed::text("provider", &entry.provider)?;
        if route != "own_tool" && provider.is_empty() {
            return Err(ApiError::Empty { field: "provider" });
        }
        let weighed = self.weigh(&loaded.job)?;
        let event = Event::ProgrammingDecided(ProgrammingDecided {
            route,
            provider,
            quoted: amount_or_zero(&entry.quoted)?,
            weighed: weighed.iter().map(|w| w.record()).collect::<Result<_, _>>()?,
            appointment: typed::text("appointment", &entry.appointment)?,
            reason: typed::text("reason", &entry.reason)?,
        });
        self.keep_and_settle(job, &event, Some("programming"))?;
        self.job_view(job)
    }

    /// Keeps what came of the programming.
    ///
    /// # Errors
    /// No decision, a supply voltage or amount that can't be read.
    pub fn programming_report(&self, job: &str, entry: &ProgrammedEntry) -> Result<JobView, ApiError> {
        let loaded = self.load(job)?;
        permission::report_programming(&loaded.job).map_err(ApiError::Refused)?;
        let supply = match entry.supply_volts.trim() {
            "" => String::new(),
            typed => Measured::parse(typed, "V")?.text().to_owned(),
        };
        let event = Event::ProgrammingReported(ProgrammingReported {
            outcome: typed::one_of("outcome", &entry.outcome, &["succeeded", "failed", "module_lost"])?,
            supply_volts: supply,
            software_before: typed::text("software_before", &entry.software_before)?,
            software_after: typed::text("software_after", &entry.software_after)?,
            billed: amount_or_zero(&entry.billed)?,
            photos: typed::photos(&entry.photos)?,
        });
        self.keep_and_settle(job, &event, Some("programmed"))?;
        self.job_view(job)
    }

    /// The three routes for a job, cheapest in expectation first.
    pub(crate) fn weigh(&self, job: &Job) -> Result<Vec<Weighed>, ApiError> {
        let rates = routes::rates(self.shop()?.labour_rate);
        let module = job.parts.last().map_or(ASSUMED_MODULE, |part| part.event.price);
        let mut weighed = Vec::new();
        for route in routes::three(module)? {
            weighed.push(Weighed {
                expectation: programming::expected(&route, &rates)?,
                cost_95: Cents::from_expectation(programming::cost_quantile(
                    &route,
                    &rates,
                    money::Percent::from_parts(95_000)?,
                )?)?,
                done_in_8_hours: programming::probability_done_by(
                    &route,
                    money::Hours::from_thousandths(8_000),
                )?,
                route,
            });
        }
        weighed.sort_by(|a, b| a.expectation.cost.total_cmp(&b.expectation.cost));
        Ok(weighed)
    }
}

/// A route with what the model expects of it.
pub(crate) struct Weighed {
    pub route: Route,
    pub expectation: Expectation,
    pub cost_95: Cents,
    pub done_in_8_hours: f64,
}

impl Weighed {
    fn record(&self) -> Result<WeighedRoute, ApiError> {
        Ok(WeighedRoute {
            route: routes::code(self.route.kind).to_owned(),
            expected_cost: self.expectation.cost_cents()?,
            expected_hours: format!("{:.2}", self.expectation.hours),
            success: format!("{:.4}", self.expectation.success),
        })
    }
}

fn amount_or_zero(typed: &str) -> Result<Cents, ApiError> {
    if typed.trim().is_empty() { Ok(Cents(0)) } else { Ok(typed.parse()?) }
}
