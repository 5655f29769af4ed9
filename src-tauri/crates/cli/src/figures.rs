//! Figures of the shop in sentences, in the language that its screens have.

use crate::error::{CliError, print_json};
use crate::open;
use api::Workshop;
use api::view::{NumberView, ToolView};
use words::{Catalogue, percent};

/// Whether the shop should buy a programming tool.
///
/// # Errors
/// A store or a setting that can't be read.
pub fn tool(workshop: &Workshop, json: bool) -> Result<(), CliError> {
    let view = workshop.tool_view()?;
    if json {
        return print_json(&view);
    }
    let speaker = Speaker::of(workshop)?;
    println!("{}\n{}", speaker.answer(&view), speaker.rests(&view));
    view.numbers.iter().for_each(|number| println!("  {}", speaker.number(number)));
    Ok(())
}

/// What a year of the shop came to.
///
/// # Errors
/// A year that isn't one; a store that can't be read.
pub fn year(workshop: &Workshop, year: &str, json: bool) -> Result<(), CliError> {
    let view = workshop.year_view(year)?;
    if json {
        return print_json(&view);
    }
    let speaker = Speaker::of(workshop)?;
    let counts = [
        ("year_opened", view.opened.to_string()),
        ("year_closed", view.closed.to_string()),
        ("year_hours", view.hours.clone()),
        ("year_agreed", speaker.amount(&view.agreed)),
        ("year_billed", speaker.amount(&view.billed)),
        ("year_paid", speaker.amount(&view.paid)),
        ("year_comebacks", view.comebacks.to_string()),
        ("year_warranty", view.warranty.to_string()),
        ("year_modules_bought", format!("{} ({})", view.modules_bought, speaker.amount(&view.modules_cost))),
        ("year_modules_spared", format!("{} ({})", view.modules_spared, speaker.amount(&view.modules_saved))),
        ("year_without_price", view.without_price.to_string()),
    ];
    println!("{}", view.year);
    counts.iter().for_each(|(key, value)| println!("  {}: {value}", speaker.say(key, &[])));
    Ok(())
}

struct Speaker<'w> {
    catalogue: &'static Catalogue,
    workshop: &'w Workshop,
}

impl Speaker<'_> {
    fn of(workshop: &Workshop) -> Result<Speaker<'_>, CliError> {
        Ok(Speaker { catalogue: Catalogue::of(open::language(workshop)?), workshop })
    }

    fn say(&self, key: &str, values: &[(&str, &str)]) -> String {
        self.catalogue.say(key, values)
    }

    fn answer(&self, view: &ToolView) -> String {
        let yearly = self.amount(view.yearly.trim_start_matches('-'));
        let (jobs, pays) = (format!("{:.0}", view.jobs), percent(view.pays));
        let key = format!("tool_answer_{}", view.answer);
        let all = [("jobs", jobs.as_str()), ("yearly", &yearly), ("pays", &pays)];
        if view.answer == "no_other" { self.say(&key, &[]) } else { self.say(&key, &all) }
    }

    fn rests(&self, view: &ToolView) -> String {
        let (jobs, months) = (u64::from(view.seen_jobs), view.seen_months.to_string());
        let rests = match view.seen_months {
            0 => self.say("tool_rests_nothing", &[]),
            _ => self.catalogue.say_count("tool_rests", "jobs", jobs, &[("months", &months)]),
        };
        let even =
            view.break_even.map(|jobs| self.say("tool_even", &[("jobs", &format!("{:.0}", jobs.ceil()))]));
        even.into_iter().chain([rests]).collect::<Vec<_>>().join(" ")
    }

    fn number(&self, number: &NumberView) -> String {
        let value = match number.unit.as_str() {
            "amount" => self.amount(&number.value),
            unit => self.say(&format!("number_{unit}"), &[("value", &number.value)]),
        };
        let source = self.catalogue.say_count(
            &format!("source_{}", number.source),
            "jobs",
            u64::from(number.jobs),
            &[],
        );
        let field = self.say(&format!("field_{}", number.name), &[]);
        format!("{field}: {value} ({source})")
    }

    /// Minor units as the shop's region writes them.
    fn amount(&self, cents: &str) -> String {
        self.workshop.amount(cents.parse().unwrap_or_default())
    }
}
