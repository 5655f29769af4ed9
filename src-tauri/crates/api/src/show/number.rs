//! Numbers that the shop may set, with where they come from.

use crate::view::NumberView;
use ::job::routes::{PlannedRoute, RouteSetting, Source, Sourced, judged};
use ::money::{Cents, Hours, MoneyError};

/// A number as it is in use.
pub(crate) fn number_view(
    name: &str,
    unit: &str,
    (value, judged): (String, String),
    source: Source,
    typed: Option<String>,
) -> NumberView {
    NumberView {
        name: name.to_owned(),
        unit: unit.to_owned(),
        value,
        judged,
        typed: typed.unwrap_or_default(),
        source: source.code().to_owned(),
        jobs: source.jobs(),
    }
}

/// An amount as it is in use.
pub(crate) fn amount_view(
    name: &str,
    amount: Sourced<Cents>,
    judged: Cents,
    set: Option<Cents>,
) -> NumberView {
    let typed = set.map(|set| set.to_string());
    number_view(name, "amount", (amount.value.into(), judged.into()), amount.source, typed)
}

/// The numbers of a route as it is weighed.
pub(crate) fn route_numbers(
    planned: &PlannedRoute,
    setting: &RouteSetting,
) -> Result<Vec<NumberView>, MoneyError> {
    let (route, usual) = (&planned.route, judged(planned.route.kind.into())?);
    let source = |name: &str| planned.sources.get(name).copied();
    let amount = |name, value: Cents, judged: Cents, set| {
        source(name).map(|source| amount_view(name, Sourced { value, source }, judged, set))
    };
    let other = |name, unit, value: String, judged: String, set| {
        source(name).map(|source| number_view(name, unit, (value, judged), source, set))
    };
    let hours = |name, value: Hours, judged: Hours, set: Option<Hours>| {
        other(name, "hours", value.to_string(), judged.to_string(), set.map(|set| set.to_string()))
    };
    let success = (route.success.to_string(), usual.success.to_string());
    let numbers = [
        amount("cash", route.cash, usual.cash, setting.cash),
        amount("cash_retry", route.cash_retry, usual.cash_retry, setting.cash_retry),
        hours("labor_hours", route.labor_hours, usual.labor_hours, setting.labor_hours),
        hours("wait", route.wait, usual.wait, setting.wait),
        hours("wait_retry", route.wait_retry, usual.wait_retry, setting.wait_retry),
        other("success", "percent", success.0, success.1, setting.success.map(|set| set.to_string())),
        amount("loss", route.loss, usual.loss, None),
    ];
    Ok(numbers.into_iter().flatten().collect())
}
