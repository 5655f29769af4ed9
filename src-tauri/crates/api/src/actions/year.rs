//! The shop's year, from records alone.

use crate::view::{ModuleSparedView, YearView};
use crate::{ApiError, Workshop, show};
use job::{DatedAmount, JobFacts};
use money::{Cents, Hours};

impl Workshop {
    /// What a year of the shop came to. Each thing counts in the year of its own record.
    ///
    /// # Errors
    /// A year that isn't one of four digits; a store that can't be read; sums beyond what can be reckoned with.
    pub fn year_view(&self, year: &str) -> Result<YearView, ApiError> {
        let year = year.trim();
        let number = year.parse::<u32>().ok().filter(|number| (1_000..=9_999).contains(number));
        let number =
            number.ok_or_else(|| ApiError::Unknown { what: "calendar_year", value: year.to_owned() })?;
        let facts = self.all_facts()?;
        let within = |wall: &str| year_of(wall) == Some(number);
        let count = |matches: &dyn Fn(&JobFacts) -> bool| {
            show::small(facts.iter().filter(|(_, job)| matches(job)).count())
        };
        let sum = |amounts: Vec<&DatedAmount>| {
            Cents::sum(amounts.into_iter().filter(|one| within(&one.wall)).map(|one| one.amount))
        };
        let bought: Vec<&DatedAmount> = facts.iter().flat_map(|(_, job)| &job.modules_bought).collect();
        let spared = self.spared(&facts, number)?;
        let prices = spared.iter().filter_map(|one| Cents::try_from(one.price.clone()).ok());
        let billed = |job: &JobFacts| job.billed.iter().any(|bill| within(&bill.wall));
        let hours = facts.iter().filter(|(_, job)| billed(job));
        let hours = hours.fold(0_u32, |sum, (_, job)| sum.saturating_add(job.hours.thousandths()));
        let years = || facts.iter().filter_map(|(_, job)| year_of(&job.opened));
        Ok(YearView {
            year: number,
            first: years().min().unwrap_or(number),
            last: years().max().unwrap_or(number),
            opened: count(&|job| within(&job.opened)),
            closed: count(&|job| within(&job.closed)),
            hours: Hours::from_thousandths(hours).to_string(),
            agreed: sum(facts.iter().filter_map(|(_, job)| job.agreed.as_ref()).collect())?.into(),
            billed: sum(facts.iter().flat_map(|(_, job)| &job.billed).collect())?.into(),
            paid: sum(facts.iter().flat_map(|(_, job)| &job.paid).collect())?.into(),
            comebacks: count(&|job| within(&job.opened) && job.comes_back_from > 0),
            warranty: count(&|job| within(&job.opened) && job.warranty),
            modules_bought: show::small(bought.iter().filter(|one| within(&one.wall)).count()),
            modules_cost: sum(bought)?.into(),
            modules_spared: show::small(spared.len()),
            modules_saved: Cents::sum(prices)?.into(),
            without_price: show::small(spared.iter().filter(|one| one.price.is_empty()).count()),
            spared,
        })
    }

    /// Modules that were suspected or asked for, and not bought. A price that was typed for the comparison with testing on
    /// says that the module was suspected.
    fn spared(&self, facts: &[(String, JobFacts)], year: u32) -> Result<Vec<ModuleSparedView>, ApiError> {
        let mut found = Vec::new();
        for (job, facts) in facts {
            let Some(spared) = facts.module_spared.as_ref().filter(|one| year_of(&one.wall) == Some(year))
            else {
                continue;
            };
            let typed = self.typed_module_price(job)?.filter(|price| price.0 > 0);
            if !spared.on_record && typed.is_none() {
                continue;
            }
            let from = match (spared.price, typed) {
                (Some(_), _) => "declined",
                (None, Some(_)) => "typed",
                (None, None) => "",
            };
            let price = spared.price.or(typed).map(String::from).unwrap_or_default();
            found.push(ModuleSparedView {
                job: job.clone(),
                number: facts.number,
                price,
                from: from.to_owned(),
            });
        }
        Ok(found)
    }
}

fn year_of(wall: &str) -> Option<u32> {
    wall.get(..4)?.parse().ok()
}
