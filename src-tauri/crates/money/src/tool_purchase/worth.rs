//! Net present value of a tool.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

use super::demand::{Demand, gamma_above};
use super::offer::ToolOffer;
use crate::error::MoneyError;
use crate::programming::{CommonRates, Route, SuccessBelief, expected_at};

/// What the tool is worth, in major units.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct Worth {
    /// Present value of everything but the jobs.
    pub fixed: f64,
    /// Present value of one job a month.
    pub per_monthly_job: f64,
    /// Jobs a month at which it breaks even; `None` if no rate does, or every one.
    pub break_even: Option<f64>,
    /// Expected net present value.
    pub expected: f64,
    /// Probability that the true rate makes it worth more than nothing.
    pub positive: f64,
    /// What knowing the rate exactly would be worth: never pay more to find out.
    pub perfect_knowledge: f64,
}

/// The shop's own way of programming and what it competes with.
#[derive(Debug, Clone, Copy)]
pub struct OwnWork<'a> {
    /// The shop's own route.
    pub route: &'a Route,
    /// What an hour costs.
    pub rates: &'a CommonRates,
    /// What is known of its success.
    pub belief: SuccessBelief,
    /// Expected cost of the best other way, in major units.
    pub other_cost: f64,
}

/// What the tool is worth when the shop's own success is in doubt too.
#[derive(Debug, Clone, Copy, PartialEq, Serialize, Deserialize, JsonSchema)]
pub struct DoubtfulWorth {
    /// Probability that true rate and true success make it worth more than nothing.
    pub positive: f64,
    /// What knowing both exactly would be worth.
    pub perfect_knowledge: f64,
}

/// Worth at a known saving per job (major units).
///
/// # Errors
/// [`MoneyError::Purchase`] if the saving is no number, and those of [`ToolOffer::check`] and [`Demand::check`].
pub fn worth(offer: &ToolOffer, demand: &Demand, saving: f64) -> Result<Worth, MoneyError> {
    let line = Line::of(offer, demand, saving)?;
    let expected = line.at(demand.mean());
    let crossing = -line.fixed / line.slope;
    Ok(Worth {
        fixed: line.fixed,
        per_monthly_job: line.slope,
        break_even: (crossing.is_finite() && crossing > 0.0).then_some(crossing),
        expected,
        positive: line.positive(demand),
        perfect_knowledge: line.positive_part(demand) - expected.max(0.0),
    })
}

/// Worth with the saving averaged over the belief about the shop's own success: Simpson's rule with 2000
/// intervals over the Beta density.
///
/// # Errors
/// Those of [`worth`], and [`MoneyError::Route`] if the route, the rates or the belief make no sense.
pub fn worth_with_doubt(
    offer: &ToolOffer,
    demand: &Demand,
    own: &OwnWork<'_>,
) -> Result<DoubtfulWorth, MoneyError> {
    let average = own.belief.expected(own.route, own.rates)?.cost;
    let expected = worth(offer, demand, own.other_cost - average)?.expected;
    let (mut positive, mut part) = (0.0, 0.0);
    for (success, weight) in own.belief.nodes(2_000)? {
        let saving = own.other_cost - expected_at(own.route, own.rates, success)?.cost;
        let line = Line::of(offer, demand, saving)?;
        positive += weight * line.positive(demand);
        part += weight * line.positive_part(demand);
    }
    Ok(DoubtfulWorth { positive, perfect_knowledge: part - expected.max(0.0) })
}

/// Net present value as a line over the monthly rate.
#[derive(Clone, Copy)]
pub(super) struct Line {
    fixed: f64,
    slope: f64,
}

impl Line {
    pub(super) fn of(offer: &ToolOffer, demand: &Demand, saving: f64) -> Result<Line, MoneyError> {
        offer.check()?;
        demand.check()?;
        if !saving.is_finite() {
            return Err(MoneyError::Purchase("the saving per job is not a number"));
        }
        Ok(Line { fixed: offer.fixed_worth(), slope: saving * offer.coverage.as_f64() * offer.annuity() })
    }

    pub(super) fn at(&self, jobs_per_month: f64) -> f64 {
        self.fixed + self.slope * jobs_per_month
    }

    /// Probability that the line is above zero.
    fn positive(&self, demand: &Demand) -> f64 {
        match self.slope {
            rising if rising > 0.0 => demand.above(-self.fixed / rising),
            falling if falling < 0.0 => 1.0 - demand.above(-self.fixed / falling),
            _ => f64::from(u8::from(self.fixed > 0.0)),
        }
    }

    /// E[max(0, line)]: by the partial moment of the gamma density, whose shape then counts one more.
    fn positive_part(&self, demand: &Demand) -> f64 {
        let scaled = demand.rate() * (-self.fixed / self.slope);
        let above = gamma_above(demand.shape(), scaled);
        let mean_above = demand.mean() * gamma_above(demand.shape().saturating_add(1), scaled);
        match self.slope {
            rising if rising > 0.0 => self.fixed * above + rising * mean_above,
            falling if falling < 0.0 => self.fixed * (1.0 - above) + falling * (demand.mean() - mean_above),
            _ => self.fixed.max(0.0),
        }
    }
}
