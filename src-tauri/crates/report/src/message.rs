//! The text message that tells the result: short enough for three linked text messages, in characters that don't double them.

use crate::everyday;
use crate::page::expected::Expected;
use crate::page::warranty::warranty;
use crate::page::wording::Wording;
use crate::summary::{Headline, sides};
use crate::words::Language;
use job::rules::Locale;
use job::{Balance, Job};
use money::Cents;

/// Most characters: three text messages linked (3 × 153 in the GSM alphabet, 3GPP TS 23.038 and 23.040) and a little more,
/// which is what a customer reads at a glance.
pub const LONGEST_MESSAGE: usize = 480;

/// The words by which a customer can tell later whether a record was changed.
#[derive(Clone, Debug)]
pub struct EightWords {
    /// The words; empty while nothing is signed.
    pub words: String,
    /// A report that the customer has shows the same.
    pub in_report: bool,
}

/// What was found, the readings before and after, the money, and the eight words; never longer than [`LONGEST_MESSAGE`].
/// What doesn't fit is left out: the warranty first, then the readings, then the end of what was found. The eight words always
/// stay: with them the customer can tell later whether a record was changed.
#[must_use]
pub fn result_message(
    job: &Job,
    eight_words: &EightWords,
    phone: &str,
    language: Language,
    locale: &Locale,
) -> String {
    let wording = Wording::of(job, language, locale);
    let headline = Headline::of(job, &wording);
    let number = job.opened.number.to_string();
    let values = [("shop", job.opened.shop.as_str()), ("number", &number), ("status", &headline.words)];
    let head = wording.say("result_head", &values);
    let key = if eight_words.in_report { "result_words" } else { "result_words_only" };
    let words = wording.say_if(key, "words", &eight_words.words).unwrap_or_default();
    let readings = readings(job, &wording);
    let money = money(job, &wording);
    let warranty = warranty(job, &wording).unwrap_or_default();
    let warranty = wording.say_if("result_warranty", "warranty", warranty.trim_end_matches('.'));
    let phone = Some(phone.to_owned()).filter(|phone| !phone.is_empty());
    let with = |found: Option<&str>, readings: Option<&String>, warranty: Option<&String>| {
        let parts = [
            Some(head.as_str()),
            found,
            readings.map(String::as_str),
            Some(&money),
            warranty.map(String::as_str),
            Some(&words),
            phone.as_deref(),
        ];
        plain(&parts.into_iter().flatten().filter(|part| !part.is_empty()).collect::<Vec<_>>().join(" "))
    };
    let found = headline.text.as_str();
    let tries = [
        with(Some(found), readings.as_ref(), warranty.as_ref()),
        with(Some(found), readings.as_ref(), None),
        with(Some(found), None, None),
        with(None, None, None),
    ];
    let fits = tries.iter().find(|text| text.chars().count() <= LONGEST_MESSAGE);
    fits.cloned().unwrap_or_else(|| shortest(&head, &words))
}

/// Even a shop's name may be too long: its end goes, the words stay.
fn shortest(head: &str, words: &str) -> String {
    let (head, words) = (plain(head), plain(words));
    let room = LONGEST_MESSAGE.saturating_sub(words.chars().count().saturating_add(5));
    let head: String = head.chars().take(room).collect();
    let whole = format!("{head}... {words}");
    whole.chars().take(LONGEST_MESSAGE).collect()
}

fn readings(job: &Job, wording: &Wording) -> Option<String> {
    let (before, after) = sides(job)?;
    let after = after?;
    let expected = Expected::of(before, job, wording);
    let limited = expected.min.is_some() || expected.max.is_some();
    let values = [
        ("before", wording.shown(&before.reading)),
        ("after", wording.shown(&after.reading)),
        ("good", expected.words(before.reading.unit, wording)),
    ];
    let values: Vec<(&str, &str)> = values.iter().map(|(name, text)| (*name, text.as_str())).collect();
    let first = wording.say("result_readings", &values);
    Some(if limited { format!("{first} {}", wording.say("result_good", &values)) } else { first })
}

fn money(job: &Job, wording: &Wording) -> String {
    let Some(approved) = job.approval_in_force().map(|kept| kept.event.amount) else { return String::new() };
    let approved = wording.say("result_approved", &[("approved", &wording.money(approved))]);
    if job.invoices.is_empty() {
        return approved;
    }
    let balance = Balance::of(job).unwrap_or_default();
    let billed = balance.billed.minus(balance.credited).unwrap_or_default();
    let due = Cents(balance.due.0.saturating_abs());
    let (billed, due) = (wording.money(billed), wording.money(due));
    let key = match balance.due.0 {
        0 => "result_paid",
        below if below < 0 => "result_owed_back",
        _ => "result_due",
    };
    format!("{approved} {}", wording.say(key, &[("billed", &billed), ("due", &due)]))
}

/// Curly quotes, dashes and spaces that don't break would force the long code, which doubles the message.
fn plain(text: &str) -> String {
    text.chars()
        .map(|sign| match sign {
            '’' | '‘' => '\'',
            '“' | '”' | '«' | '»' => '"',
            '—' | '–' | '−' => '-',
            '\u{a0}' | '\u{202f}' => ' ',
            other => other,
        })
        .collect()
}

/// The summary's headline, for other messages to the customer.
#[must_use]
pub fn headline(job: &Job, language: Language, locale: &Locale) -> String {
    Headline::of(job, &Wording::of(job, language, locale)).text
}

/// What the called cause means, in everyday words; nothing while none is called.
#[must_use]
pub fn everyday_cause(job: &Job, language: Language, locale: &Locale) -> Option<String> {
    let cause = job.findings.last().map(|kept| kept.event.cause.clone()).filter(|cause| !cause.is_empty())?;
    Some(everyday::cause(&cause, &Wording::of(job, language, locale)))
}
