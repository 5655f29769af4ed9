//! The ways of getting a module programmed with this shop's numbers, for one job.
//!
//! Every number is a judgment until the shop sets its own, its closed jobs say better, or somebody quotes for the job at
//! hand; each carries with it where it comes from.

mod history;
mod module_price;
mod setting;

pub use history::{AttemptSeen, RouteHistory};
pub use module_price::ModulePrice;
pub(crate) use module_price::{is_module, module_line, names_module};
pub(crate) use setting::keep;
pub use setting::{HOOK_UP_MINUTES, ProgrammingSettings, RouteSetting};

use crate::event::ProgrammingRoute;
use money::programming::{CommonRates, Route, RouteKind, SuccessBelief};
use money::{Cents, Hours, MoneyError, Percent};
use std::collections::BTreeMap;

/// Where a number comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub enum Source {
    /// A judgment of ours.
    Judgment,
    /// A setting of the shop.
    Setting,
    /// Closed jobs of the shop, so many.
    Jobs(u32),
    /// A quote for this job.
    Quote,
    /// What was paid for the module that came.
    Received,
    /// The module's line on the approved estimate.
    Estimate,
    /// The price of the module that the technician typed for this job.
    Typed,
}

impl Source {
    /// Code for the words.
    #[must_use]
    pub fn code(self) -> &'static str {
        match self {
            Source::Judgment => "judgment",
            Source::Setting => "setting",
            Source::Jobs(_) => "jobs",
            Source::Quote => "quote",
            Source::Received => "received",
            Source::Estimate => "estimate",
            Source::Typed => "typed",
        }
    }

    /// How many jobs it rests on; nothing where it rests on none.
    #[must_use]
    pub fn jobs(self) -> u32 {
        if let Source::Jobs(jobs) = self { jobs } else { 0 }
    }
}

/// A number with where it comes from.
#[derive(Clone, Copy, Debug, PartialEq, Eq)]
pub struct Sourced<T> {
    /// The number.
    pub value: T,
    /// Where it comes from.
    pub source: Source,
}

/// A route as it is weighed.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct PlannedRoute {
    /// Its numbers; `success` is the mean of the belief, cut to what a share holds.
    pub route: Route,
    /// What is known of its success.
    pub belief: SuccessBelief,
    /// Where each number comes from: `cash`, `cash_retry`, `labor_hours`, `wait`, `wait_retry`, `success`, and `loss`, the
    /// price of another module, where a lost one has to be bought again.
    pub sources: BTreeMap<&'static str, Source>,
    /// Whether the shop can have it at all.
    pub available: bool,
}

impl From<RouteKind> for ProgrammingRoute {
    fn from(kind: RouteKind) -> ProgrammingRoute {
        match kind {
            RouteKind::Own => ProgrammingRoute::OwnTool,
            RouteKind::Remote => ProgrammingRoute::RemoteService,
            RouteKind::Sublet => ProgrammingRoute::DealerSublet,
        }
    }
}

impl From<ProgrammingRoute> for RouteKind {
    fn from(route: ProgrammingRoute) -> RouteKind {
        match route {
            ProgrammingRoute::OwnTool => RouteKind::Own,
            ProgrammingRoute::RemoteService => RouteKind::Remote,
            ProgrammingRoute::DealerSublet => RouteKind::Sublet,
        }
    }
}

/// What an hour costs. The technician's hour counts at 60 % of the labor rate (what other work would bring in net of its
/// costs), a blocked bay at 5 %, the customer's waiting at 4 % (judgment).
pub fn rates(labor_rate: Cents) -> CommonRates {
    let share = |percent: i64| Cents(labor_rate.0.saturating_mul(percent) / 100);
    CommonRates { technician_hour: share(60), bay_hour: share(5), customer_hour: share(4) }
}

/// A route with the shop's numbers. `quote` is what was quoted for this job, `module` the price of the module: what a lost
/// one costs again.
///
/// # Errors
/// [`MoneyError`] when a number is out of its range.
pub fn planned(
    kind: ProgrammingRoute,
    settings: &ProgrammingSettings,
    history: RouteHistory,
    quote: Option<Cents>,
    module: Sourced<Cents>,
) -> Result<PlannedRoute, MoneyError> {
    let setting = settings.of(kind);
    let judged = judged(kind)?;
    let mut sources = BTreeMap::new();
    let cash = match quote {
        Some(quote) => Sourced { value: quote, source: Source::Quote },
        None => learned(set(setting.cash, judged.cash), history.billed),
    };
    let share = set(setting.success, judged.success);
    let belief = SuccessBelief::judged(share.value).after(history.successes, history.failures);
    let seen = (history.jobs > 0).then_some(Source::Jobs(history.jobs));
    sources.insert("success", seen.unwrap_or(share.source));
    let mut take = |name, source| sources.insert(name, source);
    let mut route = judged;
    route.cash = cash.value;
    take("cash", cash.source);
    let cash_retry = set(setting.cash_retry, route.cash_retry);
    route.cash_retry = cash_retry.value;
    take("cash_retry", cash_retry.source);
    let labor = learned(set(setting.labor_hours, route.labor_hours), history.hours);
    route.labor_hours = labor.value;
    take("labor_hours", labor.source);
    let wait = set(setting.wait, route.wait);
    route.wait = wait.value;
    take("wait", wait.source);
    let wait_retry = set(setting.wait_retry, route.wait_retry);
    route.wait_retry = wait_retry.value;
    take("wait_retry", wait_retry.source);
    // What somebody else loses they replace: a sublet module costs what was judged, not the part.
    if kind != ProgrammingRoute::DealerSublet {
        route.loss = module.value;
        take("loss", module.source);
    }
    route.provider.clone_from(&setting.provider);
    route.success = mean(&belief)?;
    Ok(PlannedRoute { route, belief, sources, available: !setting.unavailable })
}

/// The shop's number, or the judgment.
fn set<T>(setting: Option<T>, judged: T) -> Sourced<T> {
    match setting {
        Some(value) => Sourced { value, source: Source::Setting },
        None => Sourced { value: judged, source: Source::Judgment },
    }
}

/// What the shop's jobs say takes the place of a judgment, and of nothing that somebody set.
fn learned<T: Copy>(known: Sourced<T>, seen: Option<(T, u32)>) -> Sourced<T> {
    match (known.source, seen) {
        (Source::Judgment, Some((value, jobs))) => Sourced { value, source: Source::Jobs(jobs) },
        _ => known,
    }
}

/// The mean of a belief as a share, cut down to thousandths of a per cent.
fn mean(belief: &SuccessBelief) -> Result<Percent, MoneyError> {
    let count = |a: u32, b: u32| u64::from(a).saturating_add(u64::from(b));
    let successes = count(belief.assumed_successes, belief.successes);
    let failures = count(belief.assumed_failures, belief.failures);
    let parts = successes.saturating_mul(u64::from(Percent::HUNDRED.parts()))
        / successes.saturating_add(failures).max(1);
    Percent::from_parts(u32::try_from(parts).unwrap_or(u32::MAX))
}

/// A route as it is judged before the shop says anything.
///
/// # Errors
/// [`MoneyError`] when a number is out of its range.
pub fn judged(kind: ProgrammingRoute) -> Result<Route, MoneyError> {
    let hours = |thousandths: u32| Hours::from_thousandths(thousandths);
    let percent = |parts: u32| Percent::from_parts(parts);
    Ok(match kind {
        ProgrammingRoute::OwnTool => Route {
            kind: RouteKind::Own,
            provider: String::new(),
            cash: Cents(4_000),
            cash_retry: Cents(0),
            labor_hours: hours(1_500),
            wait: hours(500),
            wait_retry: hours(500),
            success: percent(88_000)?,
            recovery: percent(85_000)?,
            attempts: 2,
            bay: percent(100_000)?,
            loss: ModulePrice::ASSUMED,
            loss_hours: hours(24_000),
        },
        ProgrammingRoute::RemoteService => Route {
            kind: RouteKind::Remote,
            provider: String::new(),
            cash: Cents(14_500),
            cash_retry: Cents(0),
            labor_hours: hours(750),
            wait: hours(5_000),
            wait_retry: hours(3_000),
            success: percent(96_000)?,
            recovery: percent(94_000)?,
            attempts: 2,
            bay: percent(100_000)?,
            loss: ModulePrice::ASSUMED,
            loss_hours: hours(24_000),
        },
        ProgrammingRoute::DealerSublet => Route {
            kind: RouteKind::Sublet,
            provider: String::new(),
            cash: Cents(34_000),
            cash_retry: Cents(0),
            labor_hours: hours(500),
            wait: hours(20_000),
            wait_retry: hours(8_000),
            success: percent(98_500)?,
            recovery: percent(97_000)?,
            attempts: 2,
            bay: percent(0)?,
            loss: Cents(15_000),
            loss_hours: hours(16_000),
        },
    })
}
