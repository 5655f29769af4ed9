//! What one job can cost, case by case: against the outcomes of the reference file, and against a plain
//! enumeration of every sequence of attempts in exact whole numbers.

use std::collections::BTreeMap;

use money::programming::{
    Case, CommonRates, CostCases, Ending, Route, RouteKind, cost_cases, cost_quantile, expected,
};
use money::{Cents, Hours, Percent};

use crate::reference::{NAMES, Reference, close};

#[test]
fn cases_agree_with_the_outcomes_of_the_reference() {
    let reference = Reference::read();
    for name in NAMES {
        let found = cost_cases(&reference.route(name), &reference.rates()).unwrap();
        let number =
            |index: usize, field: &str| reference.number(&format!("job.{name}.outcomes.{index}.{field}"));
        let mean = |field: &str, indices: &[usize]| {
            let chance: f64 = indices.iter().map(|i| number(*i, "probability")).sum();
            indices.iter().map(|i| number(*i, "probability") * number(*i, field)).sum::<f64>() / chance
        };
        let endings =
            [(Ending::FirstAttempt, vec![0]), (Ending::FurtherAttempt, vec![2]), (Ending::Lost, vec![1, 3])];
        assert_eq!(found.cases.len(), endings.len(), "{name}");
        for (case, (ending, indices)) in found.cases.iter().zip(endings) {
            assert_eq!(case.ending, ending, "{name}");
            let chance: f64 = indices.iter().map(|i| number(*i, "probability")).sum();
            close(case.probability, chance, 1e-6, name);
            close(case.lowest, number(indices[0], "cost"), 1e-6, name);
            close(case.highest, number(*indices.last().unwrap(), "cost"), 1e-6, name);
            close(case.average, mean("cost", &indices), 1e-6, name);
            close(case.hours, mean("hours", &indices), 1e-6, name);
        }
        reference.agrees(&format!("job.{name}.expected_cost"), found.average);
    }
}

/// The list in the documentation of `CostCases`, where the average is above the limit of 95 of 100 cases.
#[test]
fn the_documented_list_holds() {
    let hours = Hours::from_thousandths;
    let percent = |parts| Percent::from_parts(parts).unwrap();
    let remote = Route {
        kind: RouteKind::Remote,
        provider: "Northgate Remote".into(),
        cash: Cents(14_500),
        cash_retry: Cents(0),
        labour_hours: hours(750),
        wait: hours(5_000),
        wait_retry: hours(3_000),
        success: percent(96_000),
        recovery: percent(94_000),
        attempts: 2,
        bay: percent(100_000),
        loss: Cents(41_200),
        loss_hours: hours(24_000),
    };
    let rates =
        CommonRates { technician_hour: Cents(7_500), bay_hour: Cents(625), customer_hour: Cents(500) };
    let found = cost_cases(&remote, &rates).unwrap();
    let [first, further, lost] = found.cases.as_slice() else { panic!("{found:?}") };
    let said = |case: &Case| (format!("{:.1}", case.probability * 100.0), format!("{:.2}", case.average));
    assert_eq!(said(first), ("96.0".into(), "265.94".into()));
    assert_eq!(said(further), ("3.6".into(), "364.38".into()));
    assert_eq!(said(lost), ("0.4".into(), "985.86".into()));
    assert_eq!(format!("{:.2}", found.average), "272.30");
    assert!(cost_quantile(&remote, &rates, percent(95_000)).unwrap() < found.average);
}

/// Every sequence of attempts as a path of yes and no, with probabilities in parts of 10^(10 attempts) and
/// costs in thousandths of a cent: no rounding anywhere.
#[test]
fn cases_agree_with_every_sequence_of_attempts() {
    let reference = Reference::read();
    let rates = reference.rates();
    for (success, recovery, attempts) in [
        (61, 85, 1),
        (61, 85, 3),
        (93, 90, 2),
        (100, 50, 3),
        (0, 100, 3),
        (0, 0, 2),
        (50, 0, 3),
        (50, 100, 3),
    ] {
        let route = Route {
            success: Percent::from_parts(success * 1_000).unwrap(),
            recovery: Percent::from_parts(recovery * 1_000).unwrap(),
            attempts,
            cash_retry: Cents(1_250),
            ..reference.route("own")
        };
        let found = cost_cases(&route, &rates).unwrap();
        let paths = Paths::of(&route, &rates, u64::from(success), u64::from(recovery));
        let name = format!("{success} % and {recovery} % in {attempts}");
        assert_eq!(found.cases.iter().map(|c| c.ending).collect::<Vec<_>>(), paths.endings(), "{name}");
        for case in &found.cases {
            let (probability, lowest, highest, average) = paths.case(case.ending);
            close(case.probability, probability, 1e-12, &name);
            close(case.lowest, lowest, 1e-12, &name);
            close(case.highest, highest, 1e-12, &name);
            close(case.average, average, 1e-12, &name);
        }
        no_contradiction(&found, &route, &rates, &name);
    }
}

/// What is said by case adds up to what is said on average, and no average lies outside its own case.
fn no_contradiction(found: &CostCases, route: &Route, rates: &CommonRates, name: &str) {
    let sum = |value: fn(&Case) -> f64| found.cases.iter().map(value).sum::<f64>();
    close(sum(|case| case.probability), 1.0, 1e-12, name);
    close(sum(|case| case.probability * case.average), found.average, 1e-12, name);
    close(expected(route, rates).unwrap().cost, found.average, 1e-12, name);
    close(sum(|case| case.probability * case.hours), expected(route, rates).unwrap().hours, 1e-12, name);
    assert!(
        found.cases.iter().all(|case| case.lowest <= case.average && case.average <= case.highest),
        "{name}"
    );
}

/// Weight and cost of each sequence, by its ending.
struct Paths {
    whole: u64,
    by_ending: BTreeMap<Ending, Vec<(u64, u64)>>,
}

impl Paths {
    fn of(route: &Route, rates: &CommonRates, success: u64, recovery: u64) -> Paths {
        let mut paths = Paths { whole: 10_000_u64.pow(route.attempts.into()), by_ending: BTreeMap::new() };
        paths.walk(route, rates, (success, recovery), (0, 1, 0));
        paths
    }

    /// One attempt after `done` others, reached with this weight (in parts of 10^(4 done)) at this cost.
    fn walk(&mut self, route: &Route, rates: &CommonRates, chances: (u64, u64), at: (u8, u64, u64)) {
        let ((success, recovery), (done, weight, cost)) = (chances, at);
        let (cash, wait) =
            if done == 0 { (route.cash, route.wait) } else { (route.cash_retry, route.wait_retry) };
        let worked = u64::from(route.labour_hours.thousandths());
        let elapsed = u64::from(wait.thousandths()) + worked;
        let cents = |amount: Cents| u64::try_from(amount.0).unwrap();
        // The reference route blocks the bay all the time.
        let hour = cents(rates.bay_hour) + cents(rates.customer_hour);
        let cost = cost + cents(cash) * 1_000 + worked * cents(rates.technician_hour) + elapsed * hour;
        let left = u32::from(route.attempts - done - 1);
        let whole = |parts: u64| parts * 10_000_u64.pow(left);
        let ending = if done == 0 { Ending::FirstAttempt } else { Ending::FurtherAttempt };
        self.end(ending, whole(weight * success * 100), cost);
        let failed = weight * (100 - success);
        let lost_cost = cost + cents(route.loss) * 1_000 + u64::from(route.loss_hours.thousandths()) * hour;
        if left == 0 {
            self.end(Ending::Lost, failed * 100, lost_cost);
        } else {
            self.end(Ending::Lost, whole(failed * (100 - recovery)), lost_cost);
            self.walk(route, rates, chances, (done + 1, failed * recovery, cost));
        }
    }

    fn end(&mut self, ending: Ending, weight: u64, cost: u64) {
        if weight > 0 {
            self.by_ending.entry(ending).or_default().push((weight, cost));
        }
    }

    fn endings(&self) -> Vec<Ending> {
        self.by_ending.keys().copied().collect()
    }

    /// Probability, lowest, highest and average cost in dollars.
    fn case(&self, ending: Ending) -> (f64, f64, f64, f64) {
        let paths = &self.by_ending[&ending];
        let weight: u64 = paths.iter().map(|path| path.0).sum();
        let weighted: u128 = paths.iter().map(|path| u128::from(path.0) * u128::from(path.1)).sum();
        let dollars = |cost: f64| cost / 100_000.0;
        let extreme = |cost: Option<u64>| dollars(cost.unwrap() as f64);
        (
            weight as f64 / self.whole as f64,
            extreme(paths.iter().map(|path| path.1).min()),
            extreme(paths.iter().map(|path| path.1).max()),
            dollars(weighted as f64 / weight as f64),
        )
    }
}
