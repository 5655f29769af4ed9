//! How the page says things: language, names of the circuit's parts, dates, money, numbers of photos.

use crate::words::{self, Language};
use chrono::{DateTime, Datelike, NaiveDate, NaiveDateTime, Timelike};
use circuit::{Circuit, Test, Text, UNMODELED};
use evidence::Digest;
use job::Job;
use job::event::ReadingKept;
use job::measured::Unit;
use job::rules::Locale;
use money::Cents;
use serde::Serialize;
use std::collections::BTreeMap;

/// Everything that turns codes and ids into words for one job.
pub(crate) struct Wording {
    pub language: Language,
    circuit: Option<Circuit>,
    locale: Locale,
    photos: BTreeMap<Digest, usize>,
}

impl Wording {
    /// The circuit is read as it was frozen; if it can't be read, its ids stand in for the names.
    pub fn of(job: &Job, language: Language, locale: &Locale) -> Wording {
        let circuit = job.circuit.as_ref().and_then(|kept| serde_json::from_str(&kept.event.definition).ok());
        let photos = photos_in_order(job).into_iter().zip(1..).collect();
        Wording { language, circuit, locale: locale.clone(), photos }
    }

    pub fn say(&self, key: &str, values: &[(&str, &str)]) -> String {
        words::say(self.language, key, values)
    }

    pub fn code(&self, family: &str, code: &str) -> String {
        words::code(self.language, family, code)
    }

    /// Words for a value of a closed set.
    pub fn code_of<T: Serialize>(&self, family: &str, value: &T) -> String {
        self.code(family, &job::code(value))
    }

    /// The sentence when there is something to say, else nothing.
    pub fn say_if(&self, key: &str, name: &str, value: &str) -> Option<String> {
        (!value.trim().is_empty()).then(|| self.say(key, &[(name, value)]))
    }

    /// "$1,234.50", as the region writes it; a currency without a sign is left out.
    pub fn money(&self, amount: Cents) -> String {
        self.locale.amount(amount)
    }

    /// What the tax is called at home: "Sales tax", "VAT".
    pub fn tax_name(&self) -> String {
        self.code_of("tax_name", &self.locale.tax_name)
    }

    /// What the seller's number for it is called there.
    pub fn seller_number_name(&self) -> String {
        self.code_of("seller_number", &self.locale.seller_number)
    }

    /// Digits in groups of three as the region writes them; anything else as it is.
    pub fn grouped(&self, digits: &str) -> String {
        if digits.len() < 5 || !digits.bytes().all(|b| b.is_ascii_digit()) {
            return digits.to_owned();
        }
        let mut said = String::new();
        for (place, digit) in digits.chars().enumerate() {
            if place > 0 && (digits.len() - place).is_multiple_of(3) {
                said.push(self.locale.group);
            }
            said.push(digit);
        }
        said
    }

    /// A local day and time as a form keeps it ("2026-10-15T10:05"); any other text, from older records, as it is.
    pub fn local_time(&self, text: &str) -> String {
        let Ok(at) = NaiveDateTime::parse_from_str(text, "%Y-%m-%dT%H:%M") else { return text.to_owned() };
        let (month, time) = (
            self.code("month", &at.month().to_string()),
            ::words::clock(self.language, at.hour(), at.minute()),
        );
        let (day, year, order) = (at.day().to_string(), at.year().to_string(), self.date_order());
        let values = [("month", &month), ("day", &day), ("year", &year), ("time", &time), ("order", &order)];
        self.say("local_time", &values.map(|(name, value)| (name, value.as_str())))
    }

    /// A day as a form keeps it ("2026-10-15"); any other text as it is.
    pub fn local_day(&self, text: &str) -> String {
        let Ok(at) = NaiveDate::parse_from_str(text, "%Y-%m-%d") else { return text.to_owned() };
        let (month, day) = (self.code("month", &at.month().to_string()), at.day().to_string());
        let (year, order) = (at.year().to_string(), self.date_order());
        self.say("local_day", &[("month", &month), ("day", &day), ("year", &year), ("order", &order)])
    }

    /// The region's order of day, month and year, as the words know it.
    fn date_order(&self) -> String {
        job::code(&self.locale.date_order)
    }

    /// The day of a wall time, without the time: "October 12, 2026".
    pub fn day(&self, wall: &str) -> String {
        self.local_day(wall.get(..10).unwrap_or(wall))
    }

    /// Day and time of a wall time without its offset, where the page names the clock once.
    pub fn day_and_time(&self, wall: &str) -> String {
        self.local_time(wall.get(..16).unwrap_or(wall))
    }

    /// The time of day of a wall time: "8:31 AM"; one that can't be read is printed as it is.
    pub fn time_of_day(&self, wall: &str) -> String {
        let at = DateTime::parse_from_rfc3339(wall);
        at.map_or_else(|_| wall.to_owned(), |at| ::words::clock(self.language, at.hour(), at.minute()))
    }

    /// A wall time to the minute, by the language's clock, with its offset; one that can't be read is printed as it is.
    pub fn date(&self, wall: &str) -> String {
        let Ok(at) = DateTime::parse_from_rfc3339(wall) else { return wall.to_owned() };
        self.say(
            "date",
            &[
                ("month", &self.code("month", &at.month().to_string())),
                ("day", &at.day().to_string()),
                ("year", &at.year().to_string()),
                ("time", &::words::clock(self.language, at.hour(), at.minute())),
                ("offset", &at.offset().to_string()),
                ("order", &self.date_order()),
            ],
        )
    }

    /// A value with its unit: "12.40 V", "yes".
    pub fn value(&self, value: &str, unit: Unit) -> String {
        match value {
            "OL" => self.say("value_over_limit", &[]),
            "yes" => self.say("value_yes", &[]),
            "no" => self.say("value_no", &[]),
            // A space that doesn't break: the unit stays with its number.
            number => {
                let unit = self.code("unit", unit.code());
                format!("{number}\u{a0}{unit}").trim_end().to_owned()
            }
        }
    }

    /// A value with the range it was read in, where that decides what it says.
    pub fn value_in_range(&self, value: &str, range: &str, unit: Unit) -> String {
        if value != "OL" || range.is_empty() {
            return self.value(value, unit);
        }
        let range = format!("{range} {}", self.code("unit", unit.code()));
        self.say("value_over_range", &[("range", range.trim_end())])
    }

    /// All that a reading shows: its value, and the lowest and highest of a recording.
    pub fn shown(&self, kept: &ReadingKept) -> String {
        let value =
            (!kept.value.is_empty()).then(|| self.value_in_range(&kept.value, &kept.range, kept.unit));
        let recorded = [("value_lowest", &kept.lowest), ("value_highest", &kept.highest)];
        let recorded = recorded.into_iter().filter(|(_, number)| !number.is_empty());
        let recorded =
            recorded.map(|(key, number)| self.say(key, &[("value", &self.value(number, kept.unit))]));
        value.into_iter().chain(recorded).collect::<Vec<_>>().join(", ")
    }

    pub fn text<'a>(&self, text: &'a Text) -> &'a str {
        match self.language {
            Language::Spanish if !text.es.is_empty() => &text.es,
            _ => &text.en,
        }
    }

    /// The circuit as it was frozen.
    pub fn circuit(&self) -> Option<&Circuit> {
        self.circuit.as_ref()
    }

    pub fn circuit_title(&self) -> Option<&str> {
        self.circuit.as_ref().map(|c| self.text(&c.title))
    }

    pub fn point(&self, id: &str) -> String {
        self.named(id, |c| c.points.iter().find(|p| p.id == id).map(|p| &p.name))
    }

    /// Where a lead was: a point, or a pin whose function isn't certain.
    pub fn lead(&self, point: &str, pin: &str) -> String {
        match pin.split_once('/') {
            Some((_, number)) => self.say("reading_pin", &[("number", number)]),
            None => self.point(point),
        }
    }

    pub fn load(&self, id: &str) -> String {
        self.named(id, |c| c.loads.iter().find(|l| l.id == id).map(|l| &l.name))
    }

    pub fn component(&self, id: &str) -> String {
        self.named(id, |c| c.components.iter().find(|p| p.id == id).map(|p| &p.name))
    }

    /// A need of a module (supply, ground, input, output) by its id.
    pub fn need(&self, id: &str) -> Option<String> {
        let needs = self.circuit.as_ref()?.modules.iter().flat_map(|m| &m.evidence);
        needs.into_iter().find(|n| n.id == id).map(|n| self.text(&n.name).to_owned())
    }

    pub fn test(&self, id: &str) -> Option<&Test> {
        self.circuit.as_ref()?.tests.iter().find(|t| t.id == id)
    }

    /// "Key: on", in words.
    pub fn state(&self, variable: &str, position: &str) -> String {
        let found = self.circuit.as_ref().and_then(|c| c.variables.iter().find(|v| v.id == variable));
        let value = found.and_then(|v| v.values.iter().find(|p| p.id == position));
        let what = found.map_or(variable, |v| self.text(&v.name));
        let unknown = self.say("position_unknown", &[]);
        let stands = if position == circuit::UNKNOWN { &unknown } else { position };
        let position = value.map_or(stands, |p| self.text(&p.name));
        self.say("state_entry", &[("what", what), ("position", position)])
    }

    /// A cause by its id `component/mode`; two at once, joined by a plus; what the circuit doesn't contain.
    pub fn cause(&self, id: &str) -> String {
        if id == UNMODELED {
            return self.say("cause_unmodelled", &[]);
        }
        id.split(" + ").map(|one| self.one_cause(one)).collect::<Vec<_>>().join(" + ")
    }

    fn one_cause(&self, id: &str) -> String {
        match id.split_once('/') {
            Some((component, mode)) => {
                let known = self.circuit.as_ref().map_or(&[][..], |circuit| &circuit.components);
                let known = known.iter().find(|part| part.id == component);
                let (part, failure) = (self.component(component), words::failure(self.language, known, mode));
                self.say("cause_text", &[("part", &part), ("failure", &failure)])
            }
            None => id.to_owned(),
        }
    }

    /// Number of a photo in this report.
    pub fn photo(&self, photo: &Digest) -> Option<usize> {
        self.photos.get(photo).copied()
    }

    /// "photos 2, 3"; nothing for no photos.
    pub fn photos(&self, photos: &[Digest]) -> Option<String> {
        let numbers: Vec<String> =
            photos.iter().filter_map(|p| self.photo(p)).map(|n| n.to_string()).collect();
        let key = if numbers.len() == 1 { "photo_one" } else { "photo_some" };
        (!numbers.is_empty()).then(|| self.say(key, &[("numbers", &numbers.join(", "))]))
    }

    fn named<'a>(&'a self, id: &'a str, find: impl FnOnce(&'a Circuit) -> Option<&'a Text>) -> String {
        self.circuit.as_ref().and_then(find).map_or(id, |text| self.text(text)).to_owned()
    }
}

/// Photos in the order they were kept.
pub(crate) fn photos_in_order(job: &Job) -> Vec<Digest> {
    let mut photos: Vec<_> = job.photos.iter().collect();
    photos.sort_by_key(|(digest, kept)| (milliseconds(&kept.wall), **digest));
    photos.into_iter().map(|(digest, _)| *digest).collect()
}

fn milliseconds(wall: &str) -> i64 {
    DateTime::parse_from_rfc3339(wall).map_or(i64::MAX, |at| at.timestamp_millis())
}
