//! Is it cheaper to test on, or to fit the module now and see?

use crate::answer::options::Options;
use crate::answer::test_or_buy::{Cheaper, TestOrBuy};
use crate::choose::forecast::Particle;
use crate::choose::next_test::Choice;
use crate::file::module::Module;
use crate::predict::modules::causes_in;

/// One comparison for each module with a price, when the shop's rate is known.
pub(crate) fn tests_or_buys(
    choice: &Choice<'_, '_, '_>,
    particles: &[Particle],
    options: &Options,
) -> Vec<TestOrBuy> {
    let Some(cents) = options.bench_cents_per_hour else { return Vec::new() };
    let modules = choice.model.circuit().modules.iter();
    let priced = modules.filter_map(|module| Some((module, options.module_prices.get(&module.id)?)));
    priced
        .map(|(module, price)| {
            let shop = Shop {
                cents_per_minute: cents / 60.0,
                price: price.part_cents + price.programming_cents,
                inside: inside(choice, particles, module),
            };
            shop.compare(choice, &module.id)
        })
        .collect()
}

fn inside(choice: &Choice<'_, '_, '_>, particles: &[Particle], module: &Module) -> Vec<bool> {
    let causes = causes_in(choice.model, module);
    particles.iter().map(|particle| causes.contains(&particle.cause)).chain([false]).collect()
}

/// The shop's money beside one module.
struct Shop {
    cents_per_minute: f64,
    price: f64,
    /// Which particles lie inside the module.
    inside: Vec<bool>,
}

impl Shop {
    /// min over tests of cost + Σ P(outcome)·J(after), against part + programming + (1 − P)·J(after it failed).
    fn compare(&self, choice: &Choice<'_, '_, '_>, module: &str) -> TestOrBuy {
        let steps = choice.leading_steps().into_iter().map(|tried| {
            let total: f64 = tried.outcomes.iter().map(|(chance, _)| chance).sum();
            let onwards =
                |(chance, weights): &(f64, Vec<f64>)| chance / total * self.onwards(choice, weights);
            let after: f64 = tried.outcomes.iter().map(onwards).sum();
            (tried.test, tried.minutes.mul_add(self.cents_per_minute, after))
        });
        let best = steps.min_by(|left, right| left.1.total_cmp(&right.1));
        let buy_cents = self.buy(choice, &choice.weights);
        let stay = self.search(choice, &choice.weights);
        let (test, test_cents) = best.map_or((None, stay), |(test, cents)| (Some(test), cents));
        let cheaper = if test_cents <= buy_cents { Cheaper::Test } else { Cheaper::Buy };
        let by_cents = (buy_cents - test_cents).abs();
        TestOrBuy { module: module.to_owned(), test, test_cents, buy_cents, cheaper, by_cents }
    }

    /// J: the cheaper of searching on and buying.
    fn onwards(&self, choice: &Choice<'_, '_, '_>, weights: &[f64]) -> f64 {
        self.search(choice, weights).min(self.buy(choice, weights))
    }

    /// Bench time at the pace of the best test, and the module where it is at fault.
    fn search(&self, choice: &Choice<'_, '_, '_>, weights: &[f64]) -> f64 {
        let minutes = choice.minutes_left(weights);
        minutes.mul_add(self.cents_per_minute, self.share(weights) * self.price)
    }

    /// The module now; where it doesn't help, the search goes on without it.
    fn buy(&self, choice: &Choice<'_, '_, '_>, weights: &[f64]) -> f64 {
        let without: Vec<f64> = weights
            .iter()
            .zip(&self.inside)
            .map(|(weight, inside)| if *inside { 0.0 } else { *weight })
            .collect();
        let after = choice.minutes_left(&without) * self.cents_per_minute;
        (1.0 - self.share(weights)).mul_add(after, self.price)
    }

    fn share(&self, weights: &[f64]) -> f64 {
        let own: f64 = weights.iter().zip(&self.inside).filter(|(_, inside)| **inside).map(|(w, _)| w).sum();
        own / weights.iter().sum::<f64>().max(f64::MIN_POSITIVE)
    }
}
