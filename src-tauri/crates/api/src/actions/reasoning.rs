//! A job's reasoning with what the shop knows: its closed jobs, its rate, the price of the part.

use crate::act::Loaded;
use crate::entry::BuyPriceEntry;
use crate::shop_reasoning::{BuyPrice, ShopReasoning, cents};
use crate::view::JobView;
use crate::{ApiError, Workshop, settings, typed};
use circuit::{ModulePrice, Options};
use job::{Job, Reasoning};
use money::{Cents, LineKind, Marks};

/// The form that the prices are a draft of. They are a guess for advice; nothing of them becomes a record.
const FORM: &str = "buy_price";

impl Workshop {
    /// What the readings prove, `None` while no circuit is chosen.
    pub(crate) fn reasoning(&self, loaded: &Loaded) -> Result<Option<ShopReasoning>, ApiError> {
        let job = &loaded.job;
        let Some(circuit) = job.circuit_file() else { return Ok(None) };
        let closed_jobs = self.closed_jobs(&circuit.id, &loaded.log.job)?;
        let (price, labour_rate) = (self.buy_price(loaded)?, self.shop()?.labour_rate);
        let module_price = price.map(|price| ModulePrice {
            part_cents: cents(price.part),
            programming_cents: cents(price.programming),
        });
        let priced = circuit.modules.iter().filter_map(|module| Some((module.id.clone(), module_price?)));
        let options = Options {
            closed_jobs: closed_jobs.clone(),
            bench_cents_per_hour: Some(cents(labour_rate)).filter(|rate| *rate > 0.0),
            module_prices: priced.collect(),
            ..Options::default()
        };
        let weigh = |circuit: &_, meter: &_, observations: &[_], options: &_| {
            self.engines.diagnose(circuit, meter, observations, options)
        };
        let reasoning = Reasoning::of(job, &options, &weigh)?;
        Ok(reasoning.map(|reasoning| ShopReasoning { reasoning, closed_jobs, price, labour_rate }))
    }

    /// The same; nothing where the engine refuses the circuit, which the job itself says.
    pub(crate) fn reasoning_if_any(&self, loaded: &Loaded) -> Result<Option<ShopReasoning>, ApiError> {
        match self.reasoning(loaded) {
            Err(ApiError::Circuit(_)) => Ok(None),
            other => other,
        }
    }

    /// Keeps what the part and its programming would cost, for the comparison with testing on. Empty = as in the
    /// estimate.
    ///
    /// # Errors
    /// An unknown job; an amount that can't be read or is below nothing.
    pub fn buy_price_keep(&self, job: &str, entry: &BuyPriceEntry) -> Result<JobView, ApiError> {
        self.load(job)?;
        amount(&entry.part, self.marks())?;
        amount(&entry.programming, self.marks())?;
        self.store.keep_draft(job, FORM, &settings::written(FORM, entry)?)?;
        self.job_view(job)
    }

    /// The price of the module as it was typed for a job; nothing where it wasn't.
    pub(crate) fn typed_module_price(&self, job: &str) -> Result<Option<Cents>, ApiError> {
        let typed = self.typed_buy_price(job)?;
        Ok(typed.and_then(|typed| amount(&typed.part, self.marks()).ok().flatten()))
    }

    fn typed_buy_price(&self, job: &str) -> Result<Option<BuyPriceEntry>, ApiError> {
        let typed = self.store.draft(job, FORM)?;
        Ok(typed.and_then(|value| serde_json::from_value(value).ok()))
    }

    fn buy_price(&self, loaded: &Loaded) -> Result<Option<BuyPrice>, ApiError> {
        if let Some(typed) = self.typed_buy_price(&loaded.log.job)?
            && let Ok(Some(part)) = amount(&typed.part, self.marks())
        {
            let programming = amount(&typed.programming, self.marks()).ok().flatten().unwrap_or_default();
            return Ok(Some(BuyPrice { part, programming, from: "typed" }));
        }
        Ok(of_estimate(&loaded.job))
    }
}

/// Part and programming as the latest estimate has them.
fn of_estimate(job: &Job) -> Option<BuyPrice> {
    let lines = &job.latest_estimate()?.event.estimate.lines;
    let first = |kind| lines.iter().find(|line| line.kind == kind).and_then(|line| line.amount().ok());
    let part = first(LineKind::Part)?;
    Some(BuyPrice { part, programming: first(LineKind::Sublet).unwrap_or_default(), from: "estimate" })
}

/// An amount as typed; nothing for nothing.
fn amount(typed: &str, home: Option<Marks>) -> Result<Option<Cents>, ApiError> {
    if typed.trim().is_empty() {
        return Ok(None);
    }
    typed::price(typed, home).map(Some)
}
