//! Programming routes against `programming-routes.csv`: invented routes whose results were computed by a
//! separate Python program with scipy (root finder, 40-point Gauss-Jacobi quadrature); printed there to
//! six decimals or nine, hence the tolerance of one in a million.

use money::programming::{
    BreakEven, Deadline, Outcome, Route, SuccessBelief, best_route, break_even, cost_quantile, expected,
    expected_at, outcomes, probability_done_by,
};
use money::{Cents, Percent};

use crate::reference::{NAMES, Reference, close};

#[test]
fn expectations_deadlines_and_quantiles_agree() {
    let reference = Reference::read();
    let rates = reference.rates();
    for name in NAMES {
        let route = reference.route(name);
        let average = expected(&route, &rates).unwrap();
        let done = probability_done_by(&route, "8".parse().unwrap()).unwrap();
        let budget = cost_quantile(&route, &rates, "95".parse().unwrap()).unwrap();
        reference.agrees(&format!("job.{name}.expected_cost"), average.cost);
        reference.agrees(&format!("job.{name}.expected_hours"), average.hours);
        reference.agrees(&format!("job.{name}.p_success"), average.success);
        reference.agrees(&format!("job.{name}.p_done_by_8h"), done);
        reference.agrees(&format!("job.{name}.cost_p95"), budget);
    }
}

#[test]
fn outcomes_agree() {
    let reference = Reference::read();
    for name in NAMES {
        let all = outcomes(&reference.route(name), &reference.rates()).unwrap();
        assert_eq!(all.len(), 4, "{name}");
        for (index, outcome) in all.iter().enumerate() {
            let key = |field: &str| format!("job.{name}.outcomes.{index}.{field}");
            reference.agrees(&key("probability"), outcome.probability);
            reference.agrees(&key("cost"), outcome.cost);
            reference.agrees(&key("hours"), outcome.hours);
            reference.agrees(&key("success"), f64::from(u8::from(outcome.success)));
        }
    }
}

#[test]
fn the_choice_agrees_with_and_without_a_deadline() {
    let reference = Reference::read();
    let routes = NAMES.map(|name| reference.route(name));
    let best = |deadline| {
        let choice = best_route(&routes, &reference.rates(), deadline).unwrap();
        choice.best.map_or("none", |position| NAMES[position])
    };
    assert_eq!(best(None), reference.text("job.best_by_cost"));
    for hours in ["8", "20", "1"] {
        let deadline = Deadline { within: hours.parse().unwrap(), at_least: "90".parse().unwrap() };
        assert_eq!(best(Some(deadline)), reference.text(&format!("job.best_done_by_{hours}h_90")));
    }
}

#[test]
fn break_even_and_the_average_over_the_belief_agree() {
    let reference = Reference::read();
    let (own, rates, belief) = (reference.route("own"), reference.rates(), reference.belief());
    let remote = expected(&reference.route("remote"), &rates).unwrap().cost;
    let BreakEven::Above(success) = break_even(&own, &rates, remote).unwrap() else { panic!("no crossing") };
    reference.agrees("job.own_vs_remote.breakeven_p", success);
    close(expected_at(&own, &rates, success).unwrap().cost, remote, 1e-12, "cost at break-even");
    assert_eq!(break_even(&own, &rates, 1e9), Ok(BreakEven::Always));
    assert_eq!(break_even(&own, &rates, 1.0), Ok(BreakEven::Never));

    let mean = belief.mean().unwrap();
    reference.agrees("job.own.beta_posterior_mean", mean);
    reference.agrees("job.own.cost_averaged_over_beta", belief.expected(&own, &rates).unwrap().cost);
    reference.agrees("job.own.cost_at_mean_p", expected_at(&own, &rates, mean).unwrap().cost);
}

/// For more than two attempts there is no printed reference, so two other ways must agree: the list of
/// outcomes added up, and Simpson's rule over the Beta density.
#[test]
fn longer_routes_agree_with_outcomes_and_with_simpsons_rule() {
    let reference = Reference::read();
    let (rates, belief) = (reference.rates(), reference.belief());
    for attempts in [1, 2, 3, 6] {
        let route = Route {
            attempts,
            success: Percent::from_parts(61_000).unwrap(),
            cash_retry: Cents(1_250),
            ..reference.route("own")
        };
        let all = outcomes(&route, &rates).unwrap();
        let average = expected(&route, &rates).unwrap();
        let sum = |f: fn(&Outcome) -> f64| all.iter().map(|o| o.probability * f(o)).sum::<f64>();
        close(sum(|_| 1.0), 1.0, 1e-12, "all outcomes");
        close(sum(|o| o.cost), average.cost, 1e-12, "cost");
        close(sum(|o| o.hours), average.hours, 1e-12, "hours");
        close(sum(|o| f64::from(u8::from(o.success))), average.success, 1e-12, "success");

        let by_moments = belief.expected(&route, &rates).unwrap().cost;
        let by_simpson = simpson_over_beta(22, 2, |p| expected_at(&route, &rates, p).unwrap().cost);
        close(by_moments, by_simpson, 1e-9, "average over the belief");
    }
}

/// Average of `f` over Beta(a, b), by Simpson's rule with 4000 intervals; the density is a polynomial.
fn simpson_over_beta(a: i32, b: i32, f: impl Fn(f64) -> f64) -> f64 {
    let (mut top, mut bottom) = (0.0, 0.0);
    for node in 0..=4_000 {
        let p = f64::from(node) / 4_000.0;
        let simpson = if node == 0 || node == 4_000 { 1.0 } else { f64::from(2 + 2 * (node % 2)) };
        let weight = simpson * p.powi(a - 1) * (1.0 - p).powi(b - 1);
        top += weight * f(p);
        bottom += weight;
    }
    top / bottom
}

#[test]
fn routes_without_sense_are_refused() {
    let reference = Reference::read();
    let (own, rates) = (reference.route("own"), reference.rates());
    for bad in [
        Route { attempts: 0, ..own.clone() },
        Route { attempts: 21, ..own.clone() },
        Route { loss: Cents(-1), ..own.clone() },
    ] {
        assert!(expected(&bad, &rates).is_err());
        assert!(outcomes(&bad, &rates).is_err());
    }
    assert!(expected_at(&own, &rates, f64::NAN).is_err());
    assert!(break_even(&own, &rates, f64::INFINITY).is_err());
    let none = SuccessBelief { assumed_failures: 0, ..reference.belief() };
    assert!(none.mean().is_err());
}
