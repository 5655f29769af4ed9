//! Parts received and programming.

use crate::entry::{Form, PartEntry, ProgrammedEntry, ProgrammingEntry};
use crate::view::JobView;
use crate::{ApiError, Workshop, typed};
use job::event::{PartReceived, ProgrammingDecided, ProgrammingReported, WeighedRoute};
use job::measured::{Measured, Unit, in_base_unit};
use job::{Event, Job, Refused, routes};
use money::Cents;
use money::programming::{self, CostCases, Expectation, Route};

/// Price of a module while none is on record: what a lost module would cost again (judgement).
const ASSUMED_MODULE: Cents = Cents(60_000);

impl Workshop {
    /// Keeps a received part with its receipt.
    ///
    /// # Errors
    /// Nothing approved, no finding, no photo, an amount that can't be read or is below zero.
    pub fn part_receive(&self, form: impl Into<Form>, entry: &PartEntry) -> Result<JobView, ApiError> {
        let home = self.marks();
        let event = Event::PartReceived(PartReceived {
            supplier: typed::required("supplier", &entry.supplier)?,
            part_number: typed::required("part_number", &entry.part_number)?,
            description: typed::required("description", &entry.description)?,
            condition: entry.condition,
            price: typed::price(&entry.price, home)?,
            core_charge: typed::price_or_nothing(&entry.core_charge, home)?,
            return_terms: typed::text("return_terms", &entry.return_terms)?,
            warranty: typed::text("warranty", &entry.warranty)?,
            photos: typed::photos(&entry.photos)?,
        });
        self.act(&form.into(), |_| Ok(event))
    }

    /// Keeps who programs the module, with what was expected of every route.
    ///
    /// # Errors
    /// An amount that can't be read, an appointment that is no time, no provider for work done by others.
    pub fn programming_decide(
        &self,
        form: impl Into<Form>,
        entry: &ProgrammingEntry,
    ) -> Result<JobView, ApiError> {
        let route = entry.route.ok_or(ApiError::Empty { field: "route" })?;
        let (provider, quoted) = (
            typed::text("provider", &entry.provider)?,
            typed::price_or_nothing(&entry.quoted, self.marks())?,
        );
        let (appointment, reason) =
            (typed::local_time("appointment", &entry.appointment)?, typed::text("reason", &entry.reason)?);
        self.act(&form.into(), |loaded| {
            let weighed = self.weigh(&loaded.job)?;
            let weighed = weighed.iter().map(|w| w.record()).collect::<Result<_, _>>()?;
            let decided = ProgrammingDecided { route, provider, quoted, weighed, appointment, reason };
            Ok(Event::ProgrammingDecided(decided))
        })
    }

    /// Keeps what came of the programming.
    ///
    /// # Errors
    /// No decision, a supply voltage or amount that can't be read; once, a supply that is unusual.
    pub fn programming_report(
        &self,
        form: impl Into<Form>,
        entry: &ProgrammedEntry,
    ) -> Result<JobView, ApiError> {
        let event = Event::ProgrammingReported(ProgrammingReported {
            outcome: entry.outcome,
            supply_volts: supply(&entry.supply_volts, entry.supply_confirmed)?,
            software_before: typed::text("software_before", &entry.software_before)?,
            software_after: typed::text("software_after", &entry.software_after)?,
            billed: typed::price_or_nothing(&entry.billed, self.marks())?,
            photos: typed::photos(&entry.photos)?,
        });
        self.act(&form.into(), |_| Ok(event))
    }

    /// The three routes for a job, cheapest in expectation first.
    pub(crate) fn weigh(&self, job: &Job) -> Result<Vec<Weighed>, ApiError> {
        // A rate below zero, which older versions took, would make waiting pay.
        let rates = routes::rates(self.shop()?.labour_rate.max(Cents(0)));
        let module = job.parts.last().map_or(ASSUMED_MODULE, |part| part.event.price);
        let mut weighed = Vec::new();
        for route in routes::three(module)? {
            let deadline = money::Hours::from_thousandths(8_000);
            weighed.push(Weighed {
                expectation: programming::expected(&route, &rates)?,
                cases: programming::cost_cases(&route, &rates)?,
                done_in_8_hours: programming::probability_done_by(&route, deadline)?,
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
    pub cases: CostCases,
    pub done_in_8_hours: f64,
}

impl Weighed {
    fn record(&self) -> Result<WeighedRoute, ApiError> {
        Ok(WeighedRoute {
            route: self.route.kind.into(),
            expected_cost: self.expectation.cost_cents()?,
            expected_hours: format!("{:.2}", self.expectation.hours),
            success: format!("{:.4}", self.expectation.success),
        })
    }
}

/// Volts of a control supply that are kept without asking: a 12 V system from cranking to charging (judgement).
const USUAL_SUPPLY: std::ops::RangeInclusive<f64> = 5.0..=20.0;

/// The supply voltage as it was logged; an unusual one is asked for once.
fn supply(typed: &str, confirmed: bool) -> Result<String, ApiError> {
    if typed.trim().is_empty() {
        return Ok(String::new());
    }
    let measured = Measured::parse(typed, Unit::Volt)?;
    let usual = in_base_unit(measured.text(), Unit::Volt).is_some_and(|volts| USUAL_SUPPLY.contains(&volts));
    if usual || confirmed {
        return Ok(measured.text().to_owned());
    }
    Err(ApiError::Refused(Refused::because("control_supply_unusual").with("value", measured.text())))
}
