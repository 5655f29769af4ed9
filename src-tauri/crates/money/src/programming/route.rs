//! One way of getting a module programmed.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use crate::cents::Cents;
use crate::error::MoneyError;
use crate::percent::Percent;
use crate::quantity::Hours;

/// The most attempts a route may plan; keeps every sum short.
pub(crate) const MOST_ATTEMPTS: u8 = 20;

/// Who programs the module.
#[derive(Debug, Clone, Copy, PartialEq, Eq, PartialOrd, Ord, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum RouteKind {
    /// The shop, with its own pass-thru tool and a pass from the maker.
    Own,
    /// A remote service, by appointment, over an interface in the vehicle.
    Remote,
    /// A dealer or another shop that gets the vehicle or the module.
    Sublet,
}

/// One way of getting a module programmed, with its costs, times and chances. No floats, so that it can
/// stand in a record.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Route {
    /// Who programs the module.
    pub kind: RouteKind,
    /// Name of the provider, or of the shop itself.
    pub provider: String,
    /// Paid for the first attempt: pass, fee, towing.
    pub cash: Cents,
    /// Paid again for each further attempt.
    pub cash_retry: Cents,
    /// Hours the technician is tied up in each attempt.
    pub labour_hours: Hours,
    /// Hours until the first attempt starts.
    pub wait: Hours,
    /// Hours until each further attempt starts.
    pub wait_retry: Hours,
    /// Chance that one attempt succeeds.
    pub success: Percent,
    /// Chance that the module can be tried again after a failed attempt.
    pub recovery: Percent,
    /// Attempts planned, 1 to 20.
    pub attempts: u8,
    /// Share of the elapsed hours in which the vehicle blocks the bay.
    pub bay: Percent,
    /// Cost of a lost module beyond the hours: another module, another route.
    pub loss: Cents,
    /// Hours a lost module adds.
    pub loss_hours: Hours,
}

/// What an hour costs this shop, the same for every route.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct CommonRates {
    /// What one hour of the technician would have brought in net of costs. Not the door rate, and only if
    /// other work was really waiting.
    pub technician_hour: Cents,
    /// What one elapsed hour of a blocked bay costs; zero if nobody waits for it.
    pub bay_hour: Cents,
    /// What one elapsed hour of the customer's waiting costs: loan vehicle, goodwill; zero to leave it out.
    pub customer_hour: Cents,
}

/// The numbers of one route in major units and hours.
pub(super) struct Terms {
    pub success: f64,
    pub recovery: f64,
    pub attempts: u8,
    pub loss_cost: f64,
    pub loss_hours: f64,
    first: Stage,
    further: Stage,
}

/// Cost and elapsed hours of one attempt.
#[derive(Clone, Copy)]
pub(super) struct Stage {
    pub cost: f64,
    pub hours: f64,
}

impl Route {
    /// Refuses a route whose numbers make no sense.
    ///
    /// # Errors
    /// [`MoneyError::Route`] if not 1 to 20 attempts are planned, or if a cost is below zero.
    pub fn check(&self) -> Result<(), MoneyError> {
        if !(1..=MOST_ATTEMPTS).contains(&self.attempts) {
            return Err(MoneyError::Route("plan between 1 and 20 attempts"));
        }
        if [self.cash, self.cash_retry, self.loss].iter().any(|amount| *amount < Cents::ZERO) {
            return Err(MoneyError::Route("a cost is below zero"));
        }
        Ok(())
    }
}

impl CommonRates {
    fn check(&self) -> Result<(), MoneyError> {
        let rates = [self.technician_hour, self.bay_hour, self.customer_hour];
        match rates.iter().any(|rate| *rate < Cents::ZERO) {
            true => Err(MoneyError::Route("the cost of an hour is below zero")),
            false => Ok(()),
        }
    }
}

impl Terms {
    pub(super) fn of(route: &Route, rates: &CommonRates) -> Result<Terms, MoneyError> {
        route.check()?;
        rates.check()?;
        let hour = rates.bay_hour.major() * route.bay.as_f64() + rates.customer_hour.major();
        let labour = route.labour_hours.as_f64();
        let stage = |cash: Cents, wait: Hours| {
            let hours = wait.as_f64() + labour;
            Stage { cost: cash.major() + labour * rates.technician_hour.major() + hours * hour, hours }
        };
        Ok(Terms {
            success: route.success.as_f64(),
            recovery: route.recovery.as_f64(),
            attempts: route.attempts,
            loss_cost: route.loss.major() + route.loss_hours.as_f64() * hour,
            loss_hours: route.loss_hours.as_f64(),
            first: stage(route.cash, route.wait),
            further: stage(route.cash_retry, route.wait_retry),
        })
    }

    /// The stages in order, one per planned attempt.
    pub(super) fn stages(&self) -> impl Iterator<Item = Stage> + '_ {
        (0..self.attempts).map(|k| if k == 0 { self.first } else { self.further })
    }
}
