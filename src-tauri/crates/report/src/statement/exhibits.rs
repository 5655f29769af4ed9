//! Exhibits in order: each a record or a photo with its hash.

use crate::page::pictures::Pictures;
use crate::page::warranty::warranty;
use crate::page::wording::{Wording, photos_in_order};
use crate::page::{proof, readings, signature};
use crate::summary::Headline;
use evidence::Digest;
use job::event::PhotoPurpose;
use job::suppliers::{self, SupplierAccount};
use job::{Job, Reading};
use money::ledger::CostKind;
use serde::Serialize;
use std::collections::BTreeMap;

/// One exhibit.
#[derive(Serialize)]
pub(crate) struct Exhibit {
    letter: String,
    title: String,
    when: String,
    lines: Vec<String>,
    pictures: Vec<Shown>,
    hashes: Vec<(String, String)>,
    /// Records it shows, whatever is about them refers to it.
    #[serde(skip)]
    records: Vec<Digest>,
}

/// A picture of an exhibit.
#[derive(Serialize)]
struct Shown {
    path: String,
    alt: String,
}

/// Letters of the exhibits that show any of these records: "A, C".
pub(super) fn letters(exhibits: &[Exhibit], records: &[Digest]) -> String {
    let shows = |exhibit: &&Exhibit| exhibit.records.iter().any(|record| records.contains(record));
    exhibits.iter().filter(shows).map(|exhibit| exhibit.letter.as_str()).collect::<Vec<_>>().join(", ")
}

/// Photos that the exhibits may show, the weightiest first.
pub(super) fn photos(job: &Job, account: Option<&SupplierAccount>) -> Vec<Digest> {
    match account {
        Some(account) => {
            let own = account.lines.iter().flat_map(|line| photos_of(job, &line.record));
            let measured = about_parts(account).then(|| measured(job)).into_iter().flatten();
            own.chain(loose_papers(job)).chain(measured).collect()
        }
        None => {
            let readings = measured(job);
            let yes = job.approvals.iter().flat_map(|kept| kept.event.photos.clone());
            yes.chain(messages(job)).chain(readings).collect()
        }
    }
}

/// Photos of the proof's two readings.
fn measured(job: &Job) -> Vec<Digest> {
    let pair = job.proofs.last().and_then(|kept| proof::pair(job, &kept.event));
    let readings = pair.into_iter().flat_map(|(before, after)| [before, after]);
    readings.flat_map(|reading| reading.reading.photos.clone()).collect()
}

/// Who sold a part is told what was measured; so is a supplier with whom no amount is on record.
pub(super) fn about_parts(account: &SupplierAccount) -> bool {
    let part = |what: CostKind| matches!(what, CostKind::Part | CostKind::Core);
    account.lines.is_empty() || account.lines.iter().any(|line| part(line.what))
}

fn photos_of(job: &Job, record: &Digest) -> Vec<Digest> {
    job.entry(record).map(|entry| entry.photos.clone()).unwrap_or_default()
}

fn of_purpose(job: &Job, purpose: PhotoPurpose) -> Vec<Digest> {
    let is = |photo: &Digest| job.photos.get(photo).is_some_and(|kept| kept.event.purpose == purpose);
    photos_in_order(job).into_iter().filter(is).collect()
}

fn messages(job: &Job) -> Vec<Digest> {
    of_purpose(job, PhotoPurpose::Message)
}

/// Suppliers' papers that no record names, where the job has one supplier.
fn loose_papers(job: &Job) -> Vec<Digest> {
    let (loose, nobodys) = suppliers::loose_papers(job).unwrap_or_default();
    let shown = |photo: &Digest| !nobodys && loose.contains(photo);
    photos_in_order(job).into_iter().filter(shown).collect()
}

pub(super) fn exhibits(
    job: &Job,
    account: Option<&SupplierAccount>,
    wording: &Wording,
    pictures: &Pictures,
    files: &mut BTreeMap<String, Vec<u8>>,
) -> Vec<Exhibit> {
    let making = Making { job, wording, pictures };
    let mut exhibits = match account {
        Some(account) => making.of_supplier(account),
        None => making.of_customer(files),
    };
    exhibits.sort_by(|left, right| left.0.cmp(&right.0));
    let lettered = exhibits
        .into_iter()
        .enumerate()
        .map(|(place, (_, exhibit))| Exhibit { letter: letter(place), ..exhibit });
    lettered.collect()
}

/// A, B … Z, AA, AB ….
fn letter(place: usize) -> String {
    let (round, rest) = (place / 26, place % 26);
    let one = u8::try_from(rest).map_or('?', |rest| char::from(b'A'.saturating_add(rest)));
    if round == 0 { one.to_string() } else { format!("{}{one}", letter(round.saturating_sub(1))) }
}

struct Making<'a> {
    job: &'a Job,
    wording: &'a Wording,
    pictures: &'a Pictures,
}

/// Wall time for the order, and the exhibit.
type Timed = (String, Exhibit);

impl Making<'_> {
    fn exhibit(
        &self,
        wall: &str,
        record: Digest,
        title: String,
        lines: Vec<String>,
        photos: &[Digest],
    ) -> Timed {
        let shown = photos.iter().filter_map(|photo| {
            let path = self.pictures.path(photo)?;
            Some(Shown { path, alt: self.wording.say("statement_picture_alt", &[("title", &title)]) })
        });
        let hash = |name: &str, digest: &Digest| (self.wording.say(name, &[]), digest.to_string());
        let hashes = [hash("statement_record", &record)].into_iter();
        let hashes = hashes.chain(photos.iter().map(|photo| hash("statement_photo", photo))).collect();
        let exhibit = Exhibit {
            letter: String::new(),
            when: self.wording.date(wall),
            lines: lines.into_iter().filter(|line| !line.trim().is_empty()).collect(),
            pictures: shown.collect(),
            hashes,
            records: vec![record],
            title,
        };
        (wall.to_owned(), exhibit)
    }

    fn of_customer(&self, files: &mut BTreeMap<String, Vec<u8>>) -> Vec<Timed> {
        let (job, wording) = (self.job, self.wording);
        let mut all = Vec::new();
        for kept in &job.requests {
            let title = wording.say("statement_exhibit_request", &[]);
            all.push(self.exhibit(&kept.wall, kept.record, title, vec![kept.event.text.clone()], &[]));
        }
        for kept in &job.approvals {
            let event = &kept.event;
            let values = [
                ("amount", wording.money(event.amount)),
                ("channel", wording.code_of("approval_channel", &event.channel)),
            ];
            let values: Vec<(&str, &str)> = values.iter().map(|(n, v)| (*n, v.as_str())).collect();
            let title = wording.say(if event.approves() { "statement_yes" } else { "statement_no" }, &values);
            let lines = [
                wording.say_if("approval_name", "name", &event.name),
                wording.say_if("approval_words", "words", &event.words),
                wording.say_if("approval_number_called", "number", &event.number_called),
                wording.say_if("approval_called_by", "name", &event.called_by),
                wording.say_if("approval_conditions", "conditions", &event.conditions),
            ];
            let lines = lines.into_iter().flatten().chain(self.lines_of(&event.estimate)).collect();
            let mut timed = self.exhibit(&kept.wall, kept.record, title, lines, &event.photos);
            if let Some(drawing) = signature::signature_svg(&event.signature) {
                let path = format!("signature-{}.svg", event.version);
                let alt = wording.say("approval_signature_alt", &[("version", &event.version.to_string())]);
                files.insert(path.clone(), drawing.into_bytes());
                timed.1.pictures.push(Shown { path, alt });
            }
            timed.1.records.push(event.estimate);
            all.push(timed);
        }
        all.extend(self.measured());
        for kept in &job.invoices {
            let (number, total) = (&kept.event.invoice.number, wording.money(kept.event.totals.total));
            let title = wording.say("statement_invoice", &[("number", number), ("amount", &total)]);
            let lines = kept.event.invoice.lines.iter().map(|line| self.line(line)).collect();
            all.push(self.exhibit(&kept.wall, kept.record, title, lines, &[]));
        }
        for kept in &job.payments {
            let event = &kept.event;
            let (means, day) = (wording.code_of("means", &event.means), wording.local_day(&event.day));
            let title = wording.say("statement_paid", &[("amount", &wording.money(event.amount))]);
            let lines = vec![format!("{means}, {day}"), event.reference.clone(), event.note.clone()];
            all.push(self.exhibit(&kept.wall, kept.record, title, lines, &event.photos));
        }
        all.extend(job.handed_over.as_ref().map(|kept| {
            let lines = vec![warranty(job, wording).unwrap_or_default(), kept.event.old_parts.clone()];
            self.exhibit(
                &kept.wall,
                kept.record,
                wording.say("statement_handed", &[]),
                lines,
                &kept.event.photos,
            )
        }));
        all.extend(messages(job).into_iter().filter_map(|photo| self.photo(&photo)));
        all
    }

    fn of_supplier(&self, account: &SupplierAccount) -> Vec<Timed> {
        let (job, wording) = (self.job, self.wording);
        let mut all: Vec<Timed> = Vec::new();
        for line in &account.lines {
            let values = [
                ("step", wording.code_of("supplier_step", &line.step)),
                ("what", wording.code_of("what", &line.what)),
                ("amount", wording.money(line.amount)),
            ];
            let values: Vec<(&str, &str)> =
                values.iter().map(|(name, text)| (*name, text.as_str())).collect();
            let title = wording.say("statement_step", &values);
            // A part and its core stand in one record: one exhibit.
            if let Some((_, exhibit)) = all.iter_mut().find(|(_, one)| one.records.contains(&line.record)) {
                exhibit.lines.push(title);
                continue;
            }
            let wall = job.entry(&line.record).map(|entry| entry.wall.clone()).unwrap_or_default();
            let lines = [&line.description, &line.reference, &line.by].into_iter().cloned();
            let due = wording.say_if("statement_due", "day", &wording.local_day(&line.due));
            let lines = lines.chain(due).collect();
            all.push(self.exhibit(&wall, line.record, title, lines, &photos_of(job, &line.record)));
        }
        all.extend(loose_papers(job).into_iter().filter_map(|photo| self.photo(&photo)));
        if about_parts(account) {
            all.extend(self.measured());
        }
        all
    }

    /// What was found, and the proof's two readings.
    fn measured(&self) -> Vec<Timed> {
        let (job, wording) = (self.job, self.wording);
        let mut all: Vec<Timed> = Vec::new();
        all.extend(job.findings.last().map(|kept| {
            let title = wording.say("statement_exhibit_finding", &[]);
            let headline = Headline::of(job, wording);
            let lines = vec![headline.text, kept.event.words.clone()];
            self.exhibit(&kept.wall, kept.record, title, lines, &[])
        }));
        if let Some(kept) = job.proofs.last() {
            let pair = proof::pair(job, &kept.event);
            all.extend(
                pair.into_iter().flat_map(|(before, after)| [self.reading(before), self.reading(after)]),
            );
            if let Some(last) = all.last_mut() {
                last.1.records.push(kept.record);
            }
        }
        all
    }

    fn reading(&self, reading: &Reading) -> Timed {
        let values = [
            ("number", reading.number.to_string()),
            ("value", self.wording.shown(&reading.reading)),
            ("name", readings::name(reading, self.wording)),
        ];
        let values: Vec<(&str, &str)> = values.iter().map(|(name, text)| (*name, text.as_str())).collect();
        let title = self.wording.say("statement_reading", &values);
        self.exhibit(&reading.wall, reading.record, title, Vec::new(), &reading.reading.photos)
    }

    fn photo(&self, photo: &Digest) -> Option<Timed> {
        let kept = self.job.photos.get(photo)?;
        let title = self.wording.code_of("purpose", &kept.event.purpose);
        Some(self.exhibit(&kept.wall, kept.record, title, Vec::new(), &[*photo]))
    }

    /// Lines of a version of the estimate.
    fn lines_of(&self, estimate: &Digest) -> Vec<String> {
        let found = self.job.estimates.iter().find(|kept| kept.record == *estimate);
        let lines = found.map(|kept| &kept.event.estimate.lines).into_iter().flatten();
        lines.map(|line| self.line(line)).collect()
    }

    fn line(&self, line: &money::Line) -> String {
        let amount = line.amount().map_or_else(|_| "?".to_owned(), |amount| self.wording.money(amount));
        let values = [("what", line.description.as_str()), ("amount", &amount)];
        self.wording.say("statement_money_line", &values)
    }
}
