//! The programming of a job for the screen: its routes, its decisions, every attempt.

use super::{both, code, number::route_numbers, photos, small};
use crate::act::Loaded;
use crate::actions::programming::Weighed;
use crate::view::{
    JobModuleView, ProgrammingCostView, ProgrammingDecisionView, ProgrammingOutcomeView, ProgrammingView,
    RouteCaseView, RouteView, VoltageView,
};
use crate::{ApiError, Workshop};
use ::job::event::{ProgrammingDecided, VoltageAt};
use ::job::routes::ProgrammingSettings;
use ::job::{Attempt, Job, Kept};
use ::money::{Cents, programming::Case};

impl Workshop {
    pub(crate) fn programming_view(&self, loaded: &Loaded) -> Result<ProgrammingView, ApiError> {
        let job = &loaded.job;
        // Amounts that can't be reckoned with leave the routes out; the rest of the job is shown.
        let weighing = self.weigh(loaded).unwrap_or_default();
        let (settings, quotes) = (self.programming_settings_kept()?, self.quotes(loaded)?);
        let mut routes = weighing
            .routes
            .iter()
            .map(|weighed| route(weighed, &settings))
            .collect::<Result<Vec<RouteView>, ApiError>>()?;
        for view in &mut routes {
            view.quote = quotes.get(&view.route).map(ToString::to_string).unwrap_or_default();
        }
        if let Some(first) = routes.first_mut() {
            first.cheapest = true;
        }
        let mut decisions: Vec<_> = job.programming.iter().map(decision).collect();
        Ok(ProgrammingView {
            routes,
            left_out: weighing.left_out,
            decision: decisions.pop(),
            earlier_decisions: decisions,
            attempts: job.programmed.iter().map(|one| attempt(job, one)).collect(),
            // Sums beyond what can be reckoned with are left out; every bill is shown.
            cost: cost(job).unwrap_or_default(),
            modules: modules(job),
            lost_session: job.lost_session().iter().map(|code| (*code).to_owned()).collect(),
            hook_up_minutes: settings.hook_up_minutes(),
        })
    }
}

fn route(weighed: &Weighed, settings: &ProgrammingSettings) -> Result<RouteView, ApiError> {
    let route = weighed.planned.route.kind.into();
    Ok(RouteView {
        route,
        provider: weighed.planned.route.provider.clone(),
        quote: String::new(),
        expected_cost: weighed.expectation.cost_cents()?.into(),
        cases: weighed.cases.cases.iter().map(case).collect::<Result<_, _>>()?,
        expected_hours: weighed.expectation.hours,
        success: weighed.expectation.success,
        done_in_8_hours: weighed.done_in_8_hours,
        cheapest: false,
        numbers: route_numbers(&weighed.planned, settings.of(route))?,
    })
}

/// One way programming can end on a route, with what it costs then.
fn case(case: &Case) -> Result<RouteCaseView, ApiError> {
    Ok(RouteCaseView {
        ending: code(&case.ending),
        probability: case.probability,
        cost: Cents::from_expectation(case.average)?.into(),
    })
}

fn modules(job: &Job) -> Vec<JobModuleView> {
    let known = job.circuit_file().map(|circuit| circuit.modules.as_slice()).unwrap_or_default();
    known.iter().map(|m| JobModuleView { module: m.id.clone(), name: both(&m.name) }).collect()
}

fn voltage(at: &VoltageAt) -> Option<VoltageView> {
    Some(VoltageView { minute: at.minute.parse().ok()?, volts: at.volts.parse().ok()? })
}

fn cost(job: &Job) -> Result<Option<ProgrammingCostView>, ::money::MoneyError> {
    let Some(cost) = job.programming_cost()? else { return Ok(None) };
    Ok(Some(ProgrammingCostView {
        quoted: cost.quoted.into(),
        billed: cost.billed.into(),
        over_quote: cost.over_quote()?.into(),
    }))
}

fn decision(kept: &Kept<ProgrammingDecided>) -> ProgrammingDecisionView {
    let event = &kept.event;
    ProgrammingDecisionView {
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        route: event.route,
        provider: event.provider.clone(),
        quoted: event.quoted.into(),
        appointment: event.due().to_owned(),
        reason: event.reason.clone(),
    }
}

fn attempt(job: &Job, attempt: &Attempt) -> ProgrammingOutcomeView {
    let (kept, event) = (&attempt.kept, &attempt.kept.event);
    let decided = job.decision_of(attempt).map(|decided| &decided.event);
    let number = |matches: &dyn Fn(&&Attempt) -> bool| {
        job.programmed.iter().find(matches).map(|other| other.number).unwrap_or_default()
    };
    let ends = event.window.iter().flat_map(|window| [&window.lowest, &window.highest]);
    ProgrammingOutcomeView {
        number: attempt.number,
        record: kept.record.to_string(),
        kept: kept.wall.clone(),
        route: decided.map(|decided| decided.route),
        provider: decided.map(|decided| decided.provider.clone()).unwrap_or_default(),
        quoted: decided.map(|decided| decided.quoted).unwrap_or_default().into(),
        corrected_by: number(&|other| Some(other.kept.record) == attempt.corrected_by),
        corrects: number(&|other| Some(other.kept.record) == event.corrects),
        outcome: event.outcome,
        supply_volts: event.supply_volts.clone(),
        software_before: event.software_before.clone(),
        software_after: event.software_after.clone(),
        billed: event.billed.into(),
        photos: photos(job, &event.photos),
        checks: event.checks.clone(),
        voltages: event.voltages.iter().filter_map(voltage).collect(),
        window: ends.filter_map(|end| end.parse().ok()).collect(),
        below_window: small(event.below_window()),
    }
}
