//! Testing on against buying the module, for the module nearest to being called.

use super::{both, code};
use crate::shop_reasoning::ShopReasoning;
use crate::view::TestOrBuyView;
use ::circuit::ModuleVerdict;
use ::money::Cents;

/// The comparison; `None` for a circuit without a module.
pub(crate) fn test_or_buy(shop: &ShopReasoning) -> Option<TestOrBuyView> {
    let (circuit, diagnosis) = (&shop.reasoning.circuit, &shop.reasoning.diagnosis);
    let id = &nearest(&diagnosis.modules)?.module;
    let module = circuit.modules.iter().find(|module| module.id == *id)?;
    let compared = diagnosis.test_or_buy.iter().find(|compared| compared.module == *id);
    let amount = |cents: fn(&::circuit::TestOrBuy) -> f64| {
        let rounded = compared.and_then(|compared| Cents::from_expectation(cents(compared) / 100.0).ok());
        rounded.map(String::from).unwrap_or_default()
    };
    Some(TestOrBuyView {
        module: both(&module.name),
        labour_rate: shop.labour_rate.into(),
        part: shop.price.map(|price| price.part.into()).unwrap_or_default(),
        programming: shop.price.map(|price| price.programming.into()).unwrap_or_default(),
        price_from: shop.price.map(|price| price.from.to_owned()).unwrap_or_default(),
        test: compared.and_then(|compared| compared.test.clone()).unwrap_or_default(),
        test_cost: amount(|compared| compared.test_cents),
        buy_cost: amount(|compared| compared.buy_cents),
        cheaper: compared.map(|compared| code(&compared.cheaper)).unwrap_or_default(),
        by: amount(|compared| compared.by_cents),
    })
}

/// The module that is likeliest.
fn nearest(verdicts: &[ModuleVerdict]) -> Option<&ModuleVerdict> {
    verdicts.iter().max_by(|a, b| a.probability.total_cmp(&b.probability))
}
