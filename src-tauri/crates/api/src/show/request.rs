//! The message that asks a customer for a yes before the work.

use crate::actions::estimates::rules_of;
use crate::view::BothLanguages;
use ::job::Job;
use ::job::event::EstimateKept;
use ::job::rule::LONGEST_REQUEST;
use ::money::Cents;
use report::{Language, words};

/// What a customer signs who does without the written estimate.
pub(crate) fn waiver_draft() -> BothLanguages {
    let say = |language| words::say(language, "waiver_text", &[]);
    BothLanguages { en: say(Language::English), es: say(Language::Spanish) }
}

/// In both languages; nothing while no estimate waits for an answer.
pub(crate) fn request_draft(job: &Job) -> BothLanguages {
    let waits =
        job.latest_estimate().filter(|_| job.handed_over.is_none() && !job.latest_estimate_is_approved());
    let draft = |language| waits.map(|kept| text(job, &kept.event, language)).unwrap_or_default();
    BothLanguages { en: draft(Language::English), es: draft(Language::Spanish) }
}

/// What doesn't fit is left out in this order: lines of the estimate from the last on, the cause, the end of the shop's name.
fn text(job: &Job, estimate: &EstimateKept, language: Language) -> String {
    let lines = estimate.estimate.lines.len();
    let whole = (0..=lines).rev().map(|shown| message(job, estimate, language, shown, true));
    let bare = std::iter::once_with(|| message(job, estimate, language, 0, false));
    let fitting = whole.chain(bare).find(|text| text.chars().count() <= LONGEST_REQUEST);
    fitting.unwrap_or_else(|| {
        let end =
            format!("{} {}", total(job, estimate, language), words::say(language, "request_answer", &[]));
        let room = LONGEST_REQUEST.saturating_sub(end.chars().count().saturating_add(2));
        let head: String = head(job, language).chars().take(room).collect();
        format!("{head}… {end}")
    })
}

fn message(job: &Job, estimate: &EstimateKept, language: Language, shown: usize, with_cause: bool) -> String {
    let lines = &estimate.estimate.lines;
    let line = |line: &::money::Line| {
        let amount = line.amount().map(|amount| money(job, amount)).unwrap_or_default();
        words::say(language, "request_line", &[("description", &line.description), ("amount", &amount)])
    };
    let left = lines.len().saturating_sub(shown);
    let more = (left > 0).then(|| words::say(language, "request_more", &[("count", &left.to_string())]));
    let listed = lines.iter().take(shown).map(line).chain(more).collect::<Vec<_>>().join("; ");
    let parts = [
        Some(head(job, language)),
        cause(job, language).filter(|_| with_cause),
        (!listed.is_empty()).then(|| format!("{listed}.")),
        Some(total(job, estimate, language)),
        Some(words::say(language, "request_answer", &[])),
    ];
    parts.into_iter().flatten().collect::<Vec<_>>().join(" ")
}

fn head(job: &Job, language: Language) -> String {
    let text = |field: &Option<String>| field.clone().unwrap_or_default();
    let vehicle = [&job.intake.year, &job.intake.make, &job.intake.model].map(text).join(" ");
    let vehicle = vehicle.split_whitespace().collect::<Vec<_>>().join(" ");
    let vehicle = if vehicle.is_empty() { words::say(language, "request_vehicle", &[]) } else { vehicle };
    let number = job.opened.number.to_string();
    let values = [("shop", job.opened.shop.as_str()), ("vehicle", &vehicle), ("number", &number)];
    words::say(language, "request_head", &values)
}

fn cause(job: &Job, language: Language) -> Option<String> {
    report::everyday_cause(job, language, &rules_of(job).locale)
}

fn total(job: &Job, estimate: &EstimateKept, language: Language) -> String {
    words::say(language, "request_total", &[("total", &money(job, estimate.totals.total))])
}

fn money(job: &Job, amount: Cents) -> String {
    rules_of(job).locale.amount(amount)
}
