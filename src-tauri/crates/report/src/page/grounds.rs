//! The readings that made a finding, and what would overturn it, as the finding froze them.

use super::result::{decimal, list};
use super::wording::Wording;
use circuit::MeasureMode;
use job::event::{FindingKept, Outcome};
use job::measured::Unit;
use job::{Job, Weight};
use serde_json::Value;

/// Readings and results named; the report stays short.
const NAMED: usize = 3;

/// One line with the readings, one with what would overturn the finding; older findings froze neither.
pub(super) fn lines(finding: &FindingKept, job: &Job, wording: &Wording) -> Vec<String> {
    let Some(verdict) = verdict(finding) else { return Vec::new() };
    let grounds: Vec<String> =
        list(verdict, "grounds").iter().take(NAMED).filter_map(|g| ground(g, job, wording)).collect();
    let overturns = match finding.outcome {
        Outcome::ModuleCalled => list(verdict, "overturned_by"),
        _ => list(&finding.result, "overturned_by"),
    };
    let overturns: Vec<String> = overturns.iter().take(NAMED).filter_map(|o| overturn(o, wording)).collect();
    let lines = [("ground_line", "grounds", grounds), ("overturn_line", "results", overturns)];
    let said = lines.into_iter().filter(|(_, _, parts)| !parts.is_empty());
    said.map(|(key, name, parts)| wording.say(key, &[(name, &parts.join("; "))])).collect()
}

/// Was the module called where no scan tool reaches it?
pub(super) fn or_programming(finding: &FindingKept) -> bool {
    let called = verdict(finding).filter(|_| finding.outcome == Outcome::ModuleCalled);
    called.and_then(|verdict| verdict.get("or_programming")?.as_bool()).unwrap_or(false)
}

/// The called cause, the called module, or the cause that led while nothing was proven.
fn verdict(finding: &FindingKept) -> Option<&Value> {
    let causes = list(&finding.result, "causes");
    let is = |value: &Value, name: &str, id: &str| value.get(name).and_then(Value::as_str) == Some(id);
    let called = causes.iter().find(|cause| is(cause, "id", &finding.cause));
    match finding.outcome {
        Outcome::NotProven => causes.first(),
        Outcome::CauseCalled => called,
        Outcome::ModuleCalled => {
            let module = called?.get("module")?.as_str()?;
            list(&finding.result, "modules").iter().find(|one| is(one, "module", module))
        }
    }
}

fn ground(ground: &Value, job: &Job, wording: &Wording) -> Option<String> {
    let record = ground.get("observation")?.as_str()?;
    let reading = job.readings.iter().find(|reading| reading.record.to_string() == record)?;
    let log_odds = decimal(ground.get("log_odds"))?;
    let key = if log_odds < 0.0 { "ground_against" } else { "ground_for" };
    let weight = wording.code("weight", Weight::of(log_odds).code());
    let values = [
        ("number", reading.number.to_string()),
        ("value", wording.shown(&reading.reading)),
        ("weight", weight),
        ("times", times(log_odds)),
    ];
    Some(wording.say(key, &values.each_ref().map(|(name, value)| (*name, value.as_str()))))
}

/// Factor on the odds; beyond ten thousand the number says nothing more.
fn times(log_odds: f64) -> String {
    match log_odds.abs().exp() {
        times if times > 10_000.0 => ">10000".to_owned(),
        times if times < 10.0 => format!("{times:.1}"),
        times => format!("{times:.0}"),
    }
}

fn overturn(overturn: &Value, wording: &Wording) -> Option<String> {
    let test = wording.test(overturn.get("test")?.as_str()?)?;
    let result = match overturn.get("result")? {
        Value::String(code) if code == "over_limit" => wording.value("OL", Unit::YesNo),
        Value::String(code) => wording.value(code, Unit::YesNo),
        between => {
            let bound = |name: &str| {
                decimal(between.get("between")?.get(name)).map(|value| in_unit(value, test.mode, wording))
            };
            match (bound("from"), bound("to")) {
                (Some(from), Some(to)) => wording.say("overturn_between", &[("from", &from), ("to", &to)]),
                (Some(from), None) => wording.say("overturn_over", &[("from", &from)]),
                (None, Some(to)) => wording.say("overturn_under", &[("to", &to)]),
                (None, None) => return None,
            }
        }
    };
    Some(wording.say("overturn_entry", &[("test", wording.text(&test.name)), ("result", &result)]))
}

/// A bound in the unit the engine counts a mode in, to a hundredth: finer than any technician needs it.
fn in_unit(value: f64, mode: MeasureMode, wording: &Wording) -> String {
    let unit = match mode {
        MeasureMode::Ohms => Unit::Ohm,
        MeasureMode::Amps | MeasureMode::AmpsClamp => Unit::Amp,
        MeasureMode::Duty => Unit::Percent,
        MeasureMode::Hertz => Unit::Hertz,
        _ => Unit::Volt,
    };
    let digits = if value.abs() >= 100.0 { 0 } else { 2 };
    wording.value(&format!("{value:.digits$}"), unit)
}
