//! A diagnosis in plain sentences, English or Spanish, each with its number in brackets.

use ::circuit::{
    CauseShare, Cheaper, Circuit, Compared, Diagnosis, DoubtCode, FaultMode, ModuleVerdict, NextTest,
    Observation, Overturn, PossibleResult, Reason, TestOrBuy, Text,
};
use ::words::Catalogue;
use report::words;
use serde::Serialize;

/// Language of the sentences.
#[derive(Clone, Copy, Debug, PartialEq, Eq, clap::ValueEnum)]
pub enum Language {
    /// English.
    En,
    /// Spanish.
    Es,
}

impl From<Language> for report::Language {
    fn from(language: Language) -> Self {
        match language {
            Language::En => report::Language::English,
            Language::Es => report::Language::Spanish,
        }
    }
}

/// Causes below this aren't spoken of, unless they were ruled out.
const WORTH_SAYING: f64 = 0.01;

/// The whole result, sentence by sentence.
pub fn sentences(circuit: &Circuit, diagnosis: &Diagnosis, language: Language) -> Vec<String> {
    let speaker = Speaker { circuit, language: language.into() };
    let mut lines = vec![format!("{} ({})", speaker.text(&circuit.title), diagnosis.engine)];
    for cause in diagnosis.causes.iter().filter(|cause| cause.probability >= WORTH_SAYING) {
        lines.push(speaker.share("cli_remaining", "cause", &speaker.cause(&cause.id), cause.probability));
        lines.extend(cause.reasons.first().map(|ground| speaker.ground(ground)));
    }
    for pair in &diagnosis.pairs {
        let names: Vec<String> = pair.causes.iter().map(|id| speaker.cause(id)).collect();
        lines.push(speaker.share("cli_pair", "causes", &names.join(" + "), pair.probability));
    }
    lines.push(speaker.say("cli_unmodelled", &[("percent", &percent(diagnosis.unmodeled))]));
    lines.extend(diagnosis.causes.iter().filter_map(|cause| speaker.ruled_out(cause)));
    diagnosis.modules.iter().for_each(|module| lines.extend(speaker.module(module)));
    lines.extend(
        diagnosis
            .open_fuses
            .iter()
            .map(|fuse| speaker.say("cli_open_fuse", &[("fuse", &speaker.cause(fuse))])),
    );
    lines.extend(diagnosis.overturned_by.iter().map(|overturn| speaker.overturn(overturn)));
    for doubt in &diagnosis.doubts {
        lines.push(speaker.doubt(doubt.code, &doubt.observations, doubt.repeat.as_deref()));
    }
    for way in &diagnosis.pin_outs {
        let pins: Vec<String> = way.pins.iter().map(|(pin, point)| format!("{pin} = {point}")).collect();
        lines.push(speaker.share("cli_pins", "pins", &pins.join(", "), way.probability));
    }
    for next in &diagnosis.next {
        lines.push(speaker.next(next));
        lines.extend(speaker.asks(&next.test).map(|line| format!("  {line}")));
    }
    lines.extend(diagnosis.test_or_buy.iter().map(|money| speaker.money(money)));
    lines.push(words::caution(speaker.language, "comes_first"));
    lines
}

/// What a reading leaves unsaid about its state, and what is taken in its place.
pub fn unsaid(circuit: &Circuit, seen: &Observation, language: Language) -> Option<String> {
    let speaker = Speaker { circuit, language: language.into() };
    let missing = circuit.variables.iter().filter(|variable| !seen.state.contains_key(&variable.id));
    let names: Vec<String> = missing.map(|variable| speaker.text(&variable.name)).collect();
    let tested = circuit.tests.iter().any(|test| seen.test.as_ref() == Some(&test.id));
    let key = if tested { "cli_state_of_test" } else { "cli_state_unknown" };
    let what = names.join(", ");
    (!names.is_empty()).then(|| speaker.say(key, &[("reading", &seen.id), ("what", &what)]))
}

struct Speaker<'s> {
    circuit: &'s Circuit,
    language: report::Language,
}

impl Speaker<'_> {
    fn say(&self, key: &str, values: &[(&str, &str)]) -> String {
        Catalogue::of(self.language).say(key, values)
    }

    fn text(&self, text: &Text) -> String {
        if self.language == report::Language::Spanish { &text.es } else { &text.en }.clone()
    }

    /// The words for a code of the engine.
    fn code(&self, family: &str, code: &impl Serialize) -> String {
        let code = serde_json::to_value(code).ok().and_then(|code| code.as_str().map(str::to_owned));
        self.say(&format!("{family}_{}", code.unwrap_or_default()), &[])
    }

    fn share(&self, key: &str, name: &str, value: &str, probability: f64) -> String {
        self.say(key, &[(name, value), ("percent", &percent(probability))])
    }

    /// A cause as its part's name and what is wrong with it, with its id.
    fn cause(&self, id: &str) -> String {
        let (part, mode) = id.split_once('/').unwrap_or((id, ""));
        let Some(part) = self.circuit.components.iter().find(|component| component.id == part) else {
            return id.to_owned();
        };
        let name = self.text(&part.name);
        let known: Result<FaultMode, _> = serde_json::from_value(mode.into());
        match known {
            Ok(_) => {
                let failure = words::failure(self.language, Some(part), mode);
                format!("{} [{id}]", self.say("cause_text", &[("part", &name), ("failure", &failure)]))
            }
            Err(_) => format!("{name} [{id}]"),
        }
    }

    fn test(&self, id: &str) -> String {
        let test = self.circuit.tests.iter().find(|test| test.id == id);
        test.map_or_else(|| id.to_owned(), |test| format!("{} [{id}]", self.text(&test.name)))
    }

    fn ground(&self, ground: &Reason) -> String {
        let key = if ground.log_odds >= 0.0 { "cli_ground_raised" } else { "cli_ground_lowered" };
        let (times, log) =
            (format!("{:.3e}", ground.log_odds.abs().exp()), format!("{:.2}", ground.log_likelihood));
        format!("  {}", self.say(key, &[("reading", &ground.observation), ("times", &times), ("log", &log)]))
    }

    fn ruled_out(&self, cause: &CauseShare) -> Option<String> {
        let out = cause.ruled_out.as_ref()?;
        let times = format!("{:.0}", out.factor);
        let values = [("cause", self.cause(&cause.id)), ("reading", out.by.clone()), ("times", times)];
        Some(self.say("cli_ruled_out", &borrowed(&values)))
    }

    fn module(&self, module: &ModuleVerdict) -> Vec<String> {
        let known = self.circuit.modules.iter().find(|known| known.id == module.module);
        let name = known.map_or_else(|| module.module.clone(), |known| self.text(&known.name));
        let key = if module.may_be_called { "cli_module_may" } else { "cli_module_may_not" };
        let mut lines = vec![self.share(key, "module", &name, module.probability)];
        if module.or_programming {
            lines.push(format!("  {}", self.say("module_or_programming", &[])));
        }
        lines.extend(module.reasons.first().map(|ground| self.ground(ground)));
        if !module.missing.is_empty() {
            lines.push(format!("  {}:", self.say("module_missing", &[])));
        }
        for missing in &module.missing {
            let about = missing.about.as_deref().map(|about| format!(" ({about})")).unwrap_or_default();
            let test = missing.test.as_deref().map(|id| format!(" → {}", self.test(id))).unwrap_or_default();
            lines.push(format!("    {}{about}{test}", self.code("missing", &missing.code)));
        }
        lines.extend(module.overturned_by.iter().map(|overturn| format!("  {}", self.overturn(overturn))));
        lines
    }

    fn overturn(&self, overturn: &Overturn) -> String {
        let values = [
            ("test", self.test(&overturn.test)),
            ("result", self.shown(overturn.result)),
            ("chance", percent(overturn.chance)),
            ("about", overturn.about.clone()),
            ("after", percent(overturn.probability_after)),
            ("leading", self.cause(&overturn.leading_after)),
        ];
        self.say("cli_overturn", &borrowed(&values))
    }

    fn shown(&self, result: PossibleResult) -> String {
        let value = |value: f64| format!("{value:.2}");
        match result {
            PossibleResult::Between { from: Some(from), to: Some(to) } => {
                self.say("overturn_between", &[("from", &value(from)), ("to", &value(to))])
            }
            PossibleResult::Between { from: Some(from), to: None } => {
                self.say("overturn_over", &[("from", &value(from))])
            }
            PossibleResult::Between { from: None, to: Some(to) } => {
                self.say("overturn_under", &[("to", &value(to))])
            }
            PossibleResult::Between { from: None, to: None } => self.say("cli_any_value", &[]),
            PossibleResult::OverLimit => "OL".to_owned(),
            PossibleResult::Yes => self.say("yes", &[]),
            PossibleResult::No => self.say("no", &[]),
        }
    }

    fn doubt(&self, code: DoubtCode, readings: &[String], repeat: Option<&str>) -> String {
        let all = match readings.split_last() {
            Some((last, [first])) => self.say("cli_and", &[("first", first), ("last", last)]),
            _ => readings.join(", "),
        };
        let said = self.say("cli_doubt", &[("doubt", &self.code("doubt", &code)), ("readings", &all)]);
        match repeat {
            Some(reading) => format!("{said} {}", self.say("doubt_repeat", &[("number", reading)])),
            None => said,
        }
    }

    fn next(&self, next: &NextTest) -> String {
        let values = [
            ("test", self.test(&next.test)),
            ("minutes", format!("{:.0}", next.minutes)),
            ("all", format!("{:.0}", next.expected_minutes)),
        ];
        self.say("cli_next", &borrowed(&values))
    }

    /// What a test asks the hands to do besides holding the leads.
    fn asks(&self, id: &str) -> impl Iterator<Item = String> {
        let test = self.circuit.tests.iter().find(|test| test.id == id);
        let compares = test.map(|test| test.compares).filter(|compares| *compares != Compared::Value);
        compares.map(|compares| self.code("ask", &compares)).into_iter()
    }

    fn money(&self, money: &TestOrBuy) -> String {
        let key = match money.cheaper {
            Cheaper::Test => "cli_buy_test",
            Cheaper::Buy => "cli_buy_buy",
        };
        let amount = |cents: f64| format!("{:.2}", cents / 100.0);
        let values = [
            ("module", money.module.clone()),
            ("by", amount(money.by_cents)),
            ("test", amount(money.test_cents)),
            ("buy", amount(money.buy_cents)),
        ];
        self.say(key, &borrowed(&values))
    }
}

fn borrowed<'a>(values: &'a [(&'a str, String)]) -> Vec<(&'a str, &'a str)> {
    values.iter().map(|(name, value)| (*name, value.as_str())).collect()
}

/// Percent to a tenth: the command line is read beside the engine's own figures.
fn percent(share: f64) -> String {
    format!("{:.1}%", share * 100.0)
}
