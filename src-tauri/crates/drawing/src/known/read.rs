//! Readings: which point shows what.

use circuit::{Circuit, Expected, MeasureMode, Observation, ObservedValue, State, Test};

use super::judge::judge;
use super::{Facts, Known};
use crate::graph::net::Net;
use crate::picture::Judged;

/// What the other lead was on.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Default)]
pub(crate) enum Against {
    /// The negative post.
    #[default]
    Minus,
    /// The positive post.
    Plus,
    /// Another point.
    Across,
}

/// A reading as it is drawn.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Read {
    /// Id of the observation.
    pub id: String,
    pub number: String,
    pub unit: &'static str,
    pub judged: Judged,
    /// Taken in the shown state.
    pub now: bool,
    pub against: Against,
}

/// A reading between two points.
#[derive(Debug, Clone, Default, PartialEq)]
pub(crate) struct Span {
    pub red: usize,
    pub black: usize,
    pub read: Read,
}

/// Fills in readings and spans: in the shown state the latest, else the latest of another.
pub(super) fn all(known: &mut Known, net: &Net, circuit: &Circuit, facts: &Facts<'_>, state: &State) {
    for seen in facts.observations {
        let place = |point: &Option<String>| point.as_ref().and_then(|id| net.point_of.get(id)).copied();
        let (Some(red), Some(black)) = (place(&seen.red), place(&seen.black)) else { continue };
        let Some((number, unit)) = shown_value(seen) else { continue };
        let test = circuit.tests.iter().find(|test| seen.test.as_deref() == Some(test.id.as_str()));
        let expected = facts.diagnosis.expected.iter().find(|expected| expected.observation == seen.id);
        let read = Read {
            id: seen.id.clone(),
            number,
            unit,
            judged: judged(seen, test, expected),
            now: circuit.whole_state(seen.test.as_deref(), &seen.state) == *state,
            against: Against::Across,
        };
        let volts = matches!(
            seen.mode,
            MeasureMode::VoltsDc
                | MeasureMode::VoltsLowImpedance
                | MeasureMode::Duty
                | MeasureMode::MillivoltsDc
        );
        let posts = [net.plus, net.minus];
        let bad = |known: &mut Known, point: usize| {
            if read.judged.is_bad() {
                known.bad.insert(point);
            }
        };
        if volts && black == net.minus {
            bad(known, red);
            keep(known, red, Read { against: Against::Minus, ..read });
        } else if volts && red == net.minus && black != net.plus {
            bad(known, black);
            keep(known, black, Read { against: Against::Minus, ..read });
        } else if volts && red == net.plus {
            bad(known, black);
            keep(known, black, Read { against: Against::Plus, ..read });
        } else if volts && black == net.plus && !posts.contains(&red) {
            bad(known, red);
            keep(known, red, Read { against: Against::Plus, ..read });
        } else {
            let same = |span: &Span| (span.red, span.black) == (red, black) && span.read.unit == read.unit;
            match known.spans.iter_mut().find(|span| same(span)) {
                Some(span) if read.now || !span.read.now => span.read = read,
                Some(_) => {}
                None => known.spans.push(Span { red, black, read }),
            }
        }
    }
}

/// A bad reading stays above a good one of another state.
fn keep(known: &mut Known, point: usize, read: Read) {
    let there = known.read.get(&point);
    let later = there.is_none_or(|there| {
        let same = there.now == read.now;
        same || read.now || (read.judged.is_bad() && !there.judged.is_bad())
    });
    let hides =
        there.is_some_and(|there| there.judged.is_bad() && there.now && !read.judged.is_bad() && read.now);
    // The same place read again in the same state: the later counts.
    if later || hides {
        known.read.insert(point, read);
    }
}

fn judged(seen: &Observation, test: Option<&Test>, expected: Option<&Expected>) -> Judged {
    let own = test.filter(|test| test.mode == seen.mode);
    judge(seen.mode, seen.value, own, expected)
}

/// Number and unit as drawn. Nothing for answers.
fn shown_value(seen: &Observation) -> Option<(String, &'static str)> {
    let over = |text: &str| (text.to_owned(), unit(seen.mode, 0.0).1);
    match seen.value {
        ObservedValue::Number(number) if number.is_finite() => {
            let (factor, unit) = unit(seen.mode, number.abs());
            let text = digits(number / factor);
            // A tenth of a millivolt or milliampere is the last that a meter tells apart.
            let fine =
                factor < 0.5 && text.chars().filter(char::is_ascii_digit).count() == 3 && text.contains('.');
            let text = if fine { format!("{:.1}", number / factor).replace('-', "−") } else { text };
            Some((text, unit))
        }
        ObservedValue::OverLimit => Some(over("OL")),
        ObservedValue::Yes if seen.mode == MeasureMode::Continuity => Some(("0".to_owned(), "Ω")),
        ObservedValue::No if seen.mode == MeasureMode::Continuity => Some(over("OL")),
        _ => None,
    }
}

/// Number and unit of a reading; nothing for an answer.
pub(crate) fn text_of(seen: &Observation) -> Option<String> {
    shown_value(seen).map(|(number, unit)| format!("{number} {unit}"))
}

/// Unit and what one of it is.
fn unit(mode: MeasureMode, size: f64) -> (f64, &'static str) {
    match mode {
        MeasureMode::MillivoltsDc => (1e-3, "mV"),
        MeasureMode::VoltsAc => (1.0, "V~"),
        MeasureMode::Ohms | MeasureMode::Continuity if size >= 999_950.0 => (1e6, "MΩ"),
        MeasureMode::Ohms | MeasureMode::Continuity if size >= 999.5 => (1e3, "kΩ"),
        MeasureMode::Ohms | MeasureMode::Continuity => (1.0, "Ω"),
        MeasureMode::Amps | MeasureMode::AmpsClamp if size > 0.0 && size < 0.1 => (1e-3, "mA"),
        MeasureMode::Amps | MeasureMode::AmpsClamp => (1.0, "A"),
        MeasureMode::Duty => (1.0, "%"),
        MeasureMode::Hertz if size >= 999.5 => (1e3, "kHz"),
        MeasureMode::Hertz => (1.0, "Hz"),
        _ => (1.0, "V"),
    }
}

/// Three digits, a true minus.
fn digits(number: f64) -> String {
    let size = number.abs();
    let text = if size >= 99.95 {
        format!("{size:.0}")
    } else if size >= 9.995 {
        format!("{size:.1}")
    } else {
        format!("{size:.2}")
    };
    let nothing = text.chars().all(|letter| matches!(letter, '0' | '.'));
    if number < 0.0 && !nothing { format!("−{text}") } else { text }
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn numbers_have_three_digits_and_their_unit() {
        for (mode, value, text) in [
            (MeasureMode::VoltsDc, 12.44, "12.4 V"),
            (MeasureMode::VoltsDc, -0.001, "0.00 V"),
            (MeasureMode::VoltsDc, -1.5, "−1.50 V"),
            (MeasureMode::Ohms, 2504.7, "2.50 kΩ"),
            (MeasureMode::AmpsClamp, 0.034, "34.0 mA"),
            (MeasureMode::MillivoltsDc, 0.0071, "7.1 mV"),
        ] {
            let seen = Observation { mode, value: ObservedValue::Number(value), ..Observation::default() };
            let (number, unit) = shown_value(&seen).unwrap();
            assert_eq!(format!("{number} {unit}"), text);
        }
    }
}
