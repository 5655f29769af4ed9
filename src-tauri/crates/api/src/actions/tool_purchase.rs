//! Should the shop buy a programming tool? From its own jobs, its own numbers and an offer.

use crate::entry::SettingEntry;
use crate::show::{amount_view, number_view};
use crate::view::{NumberView, ToolView, YearlyGainView};
use crate::{ApiError, Workshop, settings, typed};
use chrono::{DateTime, FixedOffset, Months};
use job::JobFacts;
use job::event::ProgrammingRoute;
use job::routes::{self, PlannedRoute, Sourced};
use job::tool::{ToolSettings, source};
use money::Cents;
use money::programming::{BreakEven, CommonRates, break_even};
use money::tool_purchase::{
    Demand, MOST_YEARLY_JOBS, OwnWork, ToolOffer, pays_back_by, worth, worth_of_waiting, worth_with_doubt,
    yearly_gain,
};
use std::collections::BTreeMap;

const SETTING: &str = "tool_purchase";
/// From this chance on the answer is yes, and below one less this chance it is no (judgment).
const SURE: f64 = 0.8;
/// Points of the picture besides the one at nothing.
const POINTS: u32 = 24;
/// Months of waiting that are weighed.
const WAITING: u32 = 6;
const MONTHS_A_YEAR: u32 = 12;

/// What the shop's own jobs say of how often a module has to be programmed.
#[derive(Clone, Copy, Default)]
struct Seen {
    jobs: u32,
    months: u32,
}

impl Workshop {
    /// Whether the shop should buy the tool.
    ///
    /// # Errors
    /// A store or a setting that can't be read; numbers that can't be reckoned with.
    pub fn tool_view(&self) -> Result<ToolView, ApiError> {
        let settings = self.tool_settings()?;
        let seen = self.seen()?;
        let planned = self.planned("", &BTreeMap::new(), self.usual_module_price()?)?;
        let rates = routes::rates(self.labor_rate()?);
        let (offer, demand) = (settings.offer()?, settings.demand(seen.jobs, seen.months));
        let numbers = numbers(&settings, &offer, seen);
        let own = planned.iter().find(|one| kind(one) == ProgrammingRoute::OwnTool);
        let others = planned.iter().filter(|one| kind(one) != ProgrammingRoute::OwnTool && one.available);
        let mut costs = Vec::new();
        for other in others {
            costs.push((kind(other), other.belief.expected(&other.route, &rates)?.cost));
        }
        let best = costs.into_iter().min_by(|a, b| a.1.total_cmp(&b.1));
        let jobs = jobs_a_year(&demand)?;
        match own.zip(best) {
            Some((own, best)) => answer(&offer, &demand, (own, &rates), best, numbers, (seen, jobs)),
            None => Ok(nothing_to_compare(numbers, seen, jobs)),
        }
    }

    /// Sets one number of the offer as it was typed; nothing puts the judgment back.
    ///
    /// # Errors
    /// A name that isn't known; what can't be read, is below zero or out of range.
    pub fn tool_setting_keep(&self, entry: &SettingEntry) -> Result<ToolView, ApiError> {
        let mut settings = self.tool_settings()?;
        let unknown = || ApiError::Unknown { what: "setting", value: entry.place.clone() };
        let set = settings.set(&entry.place, &entry.typed, self.marks()).ok_or_else(unknown);
        typed::named(&entry.place, set.and_then(|set| Ok(set?)))?;
        self.store.set_setting(SETTING, &settings::written(SETTING, &settings)?)?;
        self.tool_view()
    }

    fn tool_settings(&self) -> Result<ToolSettings, ApiError> {
        let kept = self.store.setting(SETTING)?;
        kept.map_or_else(|| Ok(ToolSettings::default()), |value| settings::read(SETTING, value))
    }

    fn seen(&self) -> Result<Seen, ApiError> {
        let now = DateTime::parse_from_rfc3339(&self.clock.moment().wall);
        match now {
            Ok(now) => Ok(seen(&self.all_facts()?, now)),
            Err(_) => Ok(Seen::default()),
        }
    }
}

/// Jobs with an attempt in the last twelve months, and the months begun since the shop's first job, up to twelve.
fn seen(facts: &[(String, JobFacts)], now: DateTime<FixedOffset>) -> Seen {
    let at = |wall: &String| DateTime::parse_from_rfc3339(wall).ok();
    let before = |months: u32| now.checked_sub_months(Months::new(months));
    let within = |wall: &String| {
        at(wall).zip(before(MONTHS_A_YEAR)).is_some_and(|(at, first)| at > first && at <= now)
    };
    let jobs = facts.iter().filter(|(_, job)| job.programmed.iter().any(within)).count();
    let first = facts.iter().filter_map(|(_, job)| at(&job.opened)).min();
    // A month that has begun counts whole: the jobs in it are counted too.
    let begun = |months: &u32| first.zip(before(*months)).is_some_and(|(first, then)| first <= then);
    let months =
        first.map_or(0, |_| (0..MONTHS_A_YEAR).take_while(begun).last().unwrap_or(0).saturating_add(1));
    Seen { jobs: u32::try_from(jobs).unwrap_or(u32::MAX), months }
}

fn kind(planned: &PlannedRoute) -> ProgrammingRoute {
    planned.route.kind.into()
}

/// Modules a year: the mean, and between which eight times in ten.
fn jobs_a_year(demand: &Demand) -> Result<[f64; 3], ApiError> {
    let year = f64::from(MONTHS_A_YEAR);
    Ok([demand.mean() * year, demand.quantile(0.1)? * year, demand.quantile(0.9)? * year])
}

fn answer(
    offer: &ToolOffer,
    demand: &Demand,
    (own, rates): (&PlannedRoute, &CommonRates),
    (other, other_cost): (ProgrammingRoute, f64),
    numbers: Vec<NumberView>,
    (seen, [jobs, jobs_low, jobs_high]): (Seen, [f64; 3]),
) -> Result<ToolView, ApiError> {
    let own_cost = own.belief.expected(&own.route, rates)?.cost;
    let saving = other_cost - own_cost;
    let work = OwnWork { route: &own.route, rates, belief: own.belief, other_cost };
    let worth = worth(offer, demand, saving)?;
    let pays = worth_with_doubt(offer, demand, &work)?.positive;
    let here = yearly_gain(offer, &work, jobs.min(MOST_YEARLY_JOBS))?;
    let waiting = worth_of_waiting(offer, demand, saving, WAITING)?;
    let crossing = worth.break_even.map(|monthly| monthly * f64::from(MONTHS_A_YEAR));
    let answer = match (pays, here.average >= 0.0) {
        (sure, true) if sure >= SURE => "buy_brings",
        (sure, false) if sure >= SURE => "buy_loses",
        (sure, true) if sure <= 1.0 - SURE => "leave_brings",
        (sure, false) if sure <= 1.0 - SURE => "leave_loses",
        (_, true) => "unsure_brings",
        (_, false) => "unsure_loses",
    };
    let needed = match break_even(&own.route, rates, other_cost)? {
        BreakEven::Above(success) => Some(success),
        BreakEven::Always | BreakEven::Never => None,
    };
    let cents = |major: f64| Cents::from_expectation(major).map(String::from);
    Ok(ToolView {
        answer: answer.to_owned(),
        yearly: cents(here.average)?,
        yearly_low: cents(here.low)?,
        yearly_high: cents(here.high)?,
        pays,
        jobs,
        jobs_low,
        jobs_high,
        break_even: crossing,
        seen_jobs: seen.jobs,
        seen_months: seen.months,
        own_cost: cents(own_cost)?,
        other_cost: cents(other_cost)?,
        other: job::code(&other),
        success_needed: needed,
        paid_after: paid_after(offer, demand, saving)?,
        waiting_worth: cents(waiting.knowledge)?,
        waiting_missed: cents(waiting.missed.max(0.0))?,
        numbers,
        picture: picture(offer, &work, jobs_high.max(crossing.unwrap_or(0.0) * 1.6))?,
    })
}

fn nothing_to_compare(numbers: Vec<NumberView>, seen: Seen, jobs: [f64; 3]) -> ToolView {
    let [jobs, jobs_low, jobs_high] = jobs;
    ToolView {
        answer: "no_other".to_owned(),
        yearly: String::new(),
        yearly_low: String::new(),
        yearly_high: String::new(),
        pays: 0.0,
        jobs,
        jobs_low,
        jobs_high,
        break_even: None,
        seen_jobs: seen.jobs,
        seen_months: seen.months,
        own_cost: String::new(),
        other_cost: String::new(),
        other: String::new(),
        success_needed: None,
        paid_after: None,
        waiting_worth: String::new(),
        waiting_missed: String::new(),
        numbers,
        picture: Vec::new(),
    }
}

/// The first month by whose end the tool has paid for itself as likely as not, of those looked ahead.
fn paid_after(offer: &ToolOffer, demand: &Demand, saving: f64) -> Result<Option<u32>, ApiError> {
    for months in 1..=offer.months {
        if pays_back_by(offer, demand, saving, months)?.probability >= 0.5 {
            return Ok(Some(months));
        }
    }
    Ok(None)
}

/// From no module a year to somewhat past what matters: the break-even, and what is to be expected.
fn picture(offer: &ToolOffer, work: &OwnWork<'_>, most: f64) -> Result<Vec<YearlyGainView>, ApiError> {
    let step = (most.clamp(6.0, MOST_YEARLY_JOBS) * 1.15).min(MOST_YEARLY_JOBS) / f64::from(POINTS);
    let point = |index: u32| {
        let gain = yearly_gain(offer, work, (f64::from(index) * step).min(MOST_YEARLY_JOBS))?;
        Ok(YearlyGainView { jobs: gain.jobs, low: gain.low, average: gain.average, high: gain.high })
    };
    (0..=POINTS).map(point).collect()
}

fn numbers(settings: &ToolSettings, offer: &ToolOffer, seen: Seen) -> Vec<NumberView> {
    let judged = ToolSettings::default().offer().unwrap_or(*offer);
    let amount = |name, value, judged, set: Option<Cents>| {
        amount_view(name, Sourced { value, source: source(set.as_ref()) }, judged, set)
    };
    let other = |name, unit, value: String, judged: String, set: Option<String>| {
        number_view(name, unit, (value, judged), source(set.as_ref()), set)
    };
    let text = |count: Option<u32>| count.map(|count| count.to_string());
    let share = |share: Option<money::Percent>| share.map(|share| share.to_string());
    let usual = ToolSettings::default().yearly_jobs().to_string();
    let yearly = settings.yearly_jobs().to_string();
    let counted = number_view(
        "seen_jobs",
        "jobs",
        (seen.jobs.to_string(), String::new()),
        routes::Source::Jobs(seen.jobs),
        None,
    );
    vec![
        amount("tool_price", offer.price, judged.price, settings.price),
        amount("training", offer.training, judged.training, settings.training),
        amount(
            "yearly_subscription",
            offer.yearly_subscription,
            judged.yearly_subscription,
            settings.yearly_subscription,
        ),
        amount("resale", offer.resale, judged.resale, settings.resale),
        other("months", "months", offer.months.to_string(), judged.months.to_string(), text(settings.months)),
        other(
            "discount",
            "percent",
            offer.discount.to_string(),
            judged.discount.to_string(),
            share(settings.discount),
        ),
        other(
            "coverage",
            "percent",
            offer.coverage.to_string(),
            judged.coverage.to_string(),
            share(settings.coverage),
        ),
        other("yearly_jobs", "jobs", yearly, usual, text(settings.yearly_jobs)),
        counted,
    ]
}
