//! What an approval covers.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use thiserror::Error;

use crate::cents::Cents;
use crate::error::MoneyError;
use crate::percent::Percent;

/// How far an invoice may pass the approved total without a new approval. The default, used for every
/// unknown region, is not at all. With both a share and an amount, `lesser` takes the smaller one.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct MarginRule {
    /// Share of the approved total.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin_percent: Option<Percent>,
    /// Fixed amount.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub margin_cents: Option<Cents>,
    /// With both given: the smaller (true) or the larger (false) holds.
    #[serde(default)]
    pub lesser: bool,
    /// The most the margin may come to, whichever of both it is. Below zero it leaves no margin.
    #[serde(default, skip_serializing_if = "Option::is_none")]
    pub cap: Option<Cents>,
}

/// The invoice asks for more than the approval allows.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema, Error)]
#[error(
    "the invoice asks for {asked}, which is {over} over the {allowed} allowed (approved: {approved}): \
     get a new approval first, or lower the invoice"
)]
pub struct Refusal {
    /// What the customer approved.
    pub approved: Cents,
    /// The approved total plus the margin.
    pub allowed: Cents,
    /// The total of the invoice.
    pub asked: Cents,
    /// How far over.
    pub over: Cents,
}

/// Whether an invoice of this total may be billed. The margin is cut to whole cents, never rounded up,
/// and there is none on an approved total of zero or less. The limit itself is still allowed.
///
/// # Errors
/// [`MoneyError::TooLarge`] if approved total and margin, or the difference, don't fit.
pub fn may_bill(asked: Cents, approved: Cents, rule: &MarginRule) -> Result<Result<(), Refusal>, MoneyError> {
    let allowed = approved.plus(rule.margin_on(approved))?;
    if asked <= allowed {
        return Ok(Ok(()));
    }
    Ok(Err(Refusal { approved, allowed, asked, over: asked.minus(allowed)? }))
}

impl MarginRule {
    /// The margin on an approved total.
    pub fn margin_on(&self, approved: Cents) -> Cents {
        if approved <= Cents::ZERO {
            return Cents::ZERO;
        }
        let share = self.margin_percent.map(|percent| share_of(approved, percent));
        let fixed = self.margin_cents.map(|cents| cents.max(Cents::ZERO));
        let margin = match (share, fixed) {
            (Some(share), Some(fixed)) if self.lesser => share.min(fixed),
            (Some(share), Some(fixed)) => share.max(fixed),
            (share, fixed) => share.or(fixed).unwrap_or(Cents::ZERO),
        };
        self.cap.map_or(margin, |cap| margin.min(cap.max(Cents::ZERO)))
    }
}

fn share_of(amount: Cents, percent: Percent) -> Cents {
    let exact = i128::from(amount.0) * i128::from(percent.parts()) / 100_000;
    // At most 100 % of an i64, so it always fits.
    Cents(i64::try_from(exact).unwrap_or(i64::MAX))
}

#[cfg(test)]
mod tests {
    use super::*;

    fn rule(percent: Option<u32>, cents: Option<i64>, lesser: bool) -> MarginRule {
        MarginRule {
            margin_percent: percent.map(|p| Percent::from_parts(p).unwrap()),
            margin_cents: cents.map(Cents),
            lesser,
            cap: None,
        }
    }

    #[test]
    fn an_unknown_region_has_no_margin() {
        assert_eq!(may_bill(Cents(10_000), Cents(10_000), &MarginRule::default()), Ok(Ok(())));
        let refusal =
            Refusal { approved: Cents(10_000), allowed: Cents(10_000), asked: Cents(10_001), over: Cents(1) };
        assert_eq!(may_bill(Cents(10_001), Cents(10_000), &MarginRule::default()), Ok(Err(refusal)));
        assert_eq!(
            refusal.to_string(),
            "the invoice asks for 100.01, which is 0.01 over the 100.00 allowed (approved: 100.00): \
             get a new approval first, or lower the invoice"
        );
    }

    /// The form of MCL 257.1332 as the state describes it: the lesser of $10 and 10 %.
    #[test]
    fn the_lesser_of_ten_dollars_and_ten_per_cent() {
        let lesser = rule(Some(10_000), Some(1_000), true);
        for (approved, margin) in
            [(5_000, 500), (10_000, 1_000), (40_000, 1_000), (0, 0), (-500, 0), (1_019, 101)]
        {
            assert_eq!(lesser.margin_on(Cents(approved)), Cents(margin), "{approved}");
        }
        assert_eq!(rule(Some(10_000), Some(1_000), false).margin_on(Cents(40_000)), Cents(4_000));
        assert_eq!(rule(Some(10_000), None, true).margin_on(Cents(40_000)), Cents(4_000));
        assert_eq!(rule(None, Some(1_000), true).margin_on(Cents(40_000)), Cents(1_000));
    }

    /// The form of Fla. Stat. 559.909(1)(b): "more than $10 or 10 percent, whichever is greater, but not to exceed $50".
    #[test]
    fn the_greater_of_ten_dollars_and_ten_per_cent_up_to_fifty() {
        let capped = MarginRule { cap: Some(Cents(5_000)), ..rule(Some(10_000), Some(1_000), false) };
        for (approved, margin) in [
            (5_000, 1_000),
            (10_000, 1_000),
            (40_000, 4_000),
            (50_000, 5_000),
            (50_010, 5_000),
            (900_000, 5_000),
        ] {
            assert_eq!(capped.margin_on(Cents(approved)), Cents(margin), "{approved}");
        }
        // A cap below zero lowers no approved total: it leaves no margin.
        let negative = MarginRule { cap: Some(Cents(-1)), ..capped };
        assert_eq!(negative.margin_on(Cents(40_000)), Cents::ZERO);
        assert_eq!(may_bill(Cents(40_000), Cents(40_000), &negative), Ok(Ok(())));
    }
}
