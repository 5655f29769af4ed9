//! Programming of a module: what its routes cost here, who does it, every attempt.

use super::voltage_log;
use crate::act::Loaded;
use crate::entry::{Form, ProgrammedEntry, ProgrammingEntry, QuoteEntry};
use crate::view::JobView;
use crate::{ApiError, Workshop, settings, typed};
use job::event::{ProgrammingDecided, ProgrammingReported, ProgrammingRoute, WeighedRoute};
use job::measured::{Measured, Unit, in_base_unit};
use job::routes::{self, ModulePrice, PlannedRoute, Source, Sourced};
use job::{Event, Refused};
use money::Cents;
use money::programming::{CostCases, Expectation};
use std::collections::BTreeMap;

/// The form that quotes for a job are a draft of. They become a record with the decision.
const QUOTES: &str = "programming_quotes";
/// Every route, in the order in which they are offered where they cost the same.
pub(crate) const ROUTES: [ProgrammingRoute; 3] =
    [ProgrammingRoute::OwnTool, ProgrammingRoute::RemoteService, ProgrammingRoute::DealerSublet];
/// A working day, in thousandths of an hour.
const WORKING_DAY: u32 = 8_000;

impl Workshop {
    /// Keeps who programs the module, with what was expected of every route.
    ///
    /// # Errors
    /// An amount that can't be read, an appointment that is no time, no provider for work done by others.
    pub fn programming_decide(
        &self,
        form: impl Into<Form>,
        entry: &ProgrammingEntry,
    ) -> Result<JobView, ApiError> {
        let form = form.into();
        let route = entry.route.ok_or(ApiError::Empty { field: "route" })?;
        let provider = typed::text("provider", &entry.provider)?;
        let quoted = typed::named("quoted", typed::price_or_nothing(&entry.quoted, self.marks()))?;
        let appointment_at = typed::appointment(self.clock.as_ref(), &entry.appointment)?;
        let reason = typed::text("reason", &entry.reason)?;
        let typed_here = !entry.quoted.trim().is_empty();
        if typed_here {
            self.load(&form.job)?;
            self.keep_quote(&form.job, route, &entry.quoted)?;
        }
        self.act(&form, |loaded| {
            let quotes = self.quotes(loaded)?;
            let quoted = if typed_here { quoted } else { quotes.get(&route).copied().unwrap_or_default() };
            let weighed = self.weigh(loaded)?.routes;
            let weighed = weighed.iter().map(|w| w.record()).collect::<Result<_, _>>()?;
            let appointment = String::new();
            let decided =
                ProgrammingDecided { route, provider, quoted, weighed, appointment, appointment_at, reason };
            Ok(Event::ProgrammingDecided(decided))
        })
    }

    /// Keeps what came of an attempt, beside those before it; or of one that was written down wrong, what is right.
    ///
    /// # Errors
    /// No decision, a supply voltage or amount that can't be read, a correction of what is no attempt or was corrected
    /// before; once, a supply that is unusual.
    pub fn programming_report(
        &self,
        form: impl Into<Form>,
        entry: &ProgrammedEntry,
    ) -> Result<JobView, ApiError> {
        let corrects = Some(entry.corrects.trim()).filter(|record| !record.is_empty());
        let event = Event::ProgrammingReported(ProgrammingReported {
            outcome: entry.outcome,
            supply_volts: typed::named("supply_volts", supply(&entry.supply_volts, entry.supply_confirmed))?,
            software_before: typed::text("software_before", &entry.software_before)?,
            software_after: typed::text("software_after", &entry.software_after)?,
            billed: typed::named("billed", typed::price_or_nothing(&entry.billed, self.marks()))?,
            photos: typed::photos(&entry.photos)?,
            corrects: corrects.map(typed::record).transpose()?,
            checks: entry.checks.clone(),
            voltages: voltage_log::voltages(&entry.voltages)?,
            window: voltage_log::window(&entry.window_lowest, &entry.window_highest)?,
        });
        self.act(&form.into(), |_| Ok(event))
    }

    /// Keeps what was quoted for a job on one route; it takes the place of the assumed price. Nothing typed takes it back.
    ///
    /// # Errors
    /// An unknown job; an amount that can't be read or is below zero.
    pub fn programming_quote_keep(&self, job: &str, entry: &QuoteEntry) -> Result<JobView, ApiError> {
        self.load(job)?;
        typed::named("quoted", typed::price_or_nothing(&entry.quoted, self.marks()))?;
        self.keep_quote(job, entry.route, &entry.quoted)?;
        self.job_view(job)
    }

    fn keep_quote(&self, job: &str, route: ProgrammingRoute, quoted: &str) -> Result<(), ApiError> {
        let mut typed = self.typed_quotes(job)?;
        typed.insert(job::code(&route), quoted.trim().to_owned());
        Ok(self.store.keep_draft(job, QUOTES, &settings::written(QUOTES, &typed)?)?)
    }

    /// Quotes as typed, by the code of the route; an empty one was taken back.
    fn typed_quotes(&self, job: &str) -> Result<BTreeMap<String, String>, ApiError> {
        let kept = self.store.draft(job, QUOTES)?;
        Ok(kept.and_then(|value| serde_json::from_value(value).ok()).unwrap_or_default())
    }

    /// What was quoted for a job by route: as typed last, else as the newest decision on that route says.
    pub(crate) fn quotes(&self, loaded: &Loaded) -> Result<BTreeMap<ProgrammingRoute, Cents>, ApiError> {
        let typed = self.typed_quotes(&loaded.log.job)?;
        let of = |route: &ProgrammingRoute| {
            if let Some(text) = typed.get(&job::code(route)) {
                return typed::price(text, self.marks()).ok();
            }
            let decided = loaded.job.programming.iter().rfind(|decided| decided.event.route == *route);
            decided.map(|decided| decided.event.quoted).filter(|quoted| quoted.0 > 0)
        };
        Ok(ROUTES.into_iter().filter_map(|route| Some((route, of(&route)?))).collect())
    }

    /// The routes for a job, cheapest in expectation first.
    pub(crate) fn weigh(&self, loaded: &Loaded) -> Result<Weighing, ApiError> {
        let quotes = self.quotes(loaded)?;
        let planned = self.planned(&loaded.log.job, &quotes, self.module_price(loaded)?)?;
        let decided = loaded.job.programming_decision().map(|decided| decided.event.route);
        let (taken, left) = planned.into_iter().partition::<Vec<_>, _>(|planned| {
            planned.available || decided == Some(planned.route.kind.into())
        });
        let rates = routes::rates(self.labor_rate()?);
        let weighed = |planned: PlannedRoute| {
            let PlannedRoute { route, belief, .. } = &planned;
            Ok::<_, ApiError>(Weighed {
                expectation: belief.expected(route, &rates)?,
                cases: belief.cost_cases(route, &rates)?,
                done_in_8_hours: belief
                    .probability_done_by(route, money::Hours::from_thousandths(WORKING_DAY))?,
                planned,
            })
        };
        let mut routes = taken.into_iter().map(weighed).collect::<Result<Vec<_>, _>>()?;
        routes.sort_by(|a, b| a.expectation.cost.total_cmp(&b.expectation.cost));
        Ok(Weighing { routes, left_out: left.iter().map(|planned| planned.route.kind.into()).collect() })
    }

    /// Every route with the shop's numbers, those included that it can't have. `but` is left out of its history.
    pub(crate) fn planned(
        &self,
        but: &str,
        quotes: &BTreeMap<ProgrammingRoute, Cents>,
        module: Sourced<Cents>,
    ) -> Result<Vec<PlannedRoute>, ApiError> {
        let settings = self.programming_settings_kept()?;
        let planned = |route| {
            let history = self.route_history(route, but)?;
            Ok(routes::planned(route, &settings, history, quotes.get(&route).copied(), module)?)
        };
        ROUTES.into_iter().map(planned).collect()
    }

    /// What the job's module costs again: by its records, as it was typed for the comparison with testing on, as the shop
    /// set it, or as it is judged.
    pub(crate) fn module_price(&self, loaded: &Loaded) -> Result<Sourced<Cents>, ApiError> {
        if let Some(known) = ModulePrice::of(&loaded.job) {
            return Ok(known);
        }
        match self.typed_module_price(&loaded.log.job)? {
            Some(value) => Ok(Sourced { value, source: Source::Typed }),
            None => self.usual_module_price(),
        }
    }

    /// What a module costs while no job says.
    pub(crate) fn usual_module_price(&self) -> Result<Sourced<Cents>, ApiError> {
        let set = self.programming_settings_kept()?.module;
        let judged = Sourced { value: ModulePrice::ASSUMED, source: Source::Judgment };
        Ok(set.map_or(judged, |value| Sourced { value, source: Source::Setting }))
    }

    /// A rate below zero, which older versions took, would make waiting pay.
    pub(crate) fn labor_rate(&self) -> Result<Cents, ApiError> {
        Ok(self.shop()?.labour_rate.max(Cents(0)))
    }
}

/// The routes of a job as they were weighed.
#[derive(Default)]
pub(crate) struct Weighing {
    /// Those that can be had, cheapest in expectation first.
    pub routes: Vec<Weighed>,
    /// Those that can't.
    pub left_out: Vec<ProgrammingRoute>,
}

/// A route with what the model expects of it.
pub(crate) struct Weighed {
    pub planned: PlannedRoute,
    pub expectation: Expectation,
    pub cases: CostCases,
    pub done_in_8_hours: f64,
}

impl Weighed {
    fn record(&self) -> Result<WeighedRoute, ApiError> {
        Ok(WeighedRoute {
            route: self.planned.route.kind.into(),
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
