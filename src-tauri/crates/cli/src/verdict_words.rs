//! A verdict in words for somebody who has never seen one.

use crate::verdict_words_en::{EN, Words};
use crate::verdict_words_es::{ES, not_proven, problem, proven};
use clap::ValueEnum;
use evidence::packet::{Finding, KeyCame, LogVerdict, Verdict};
use std::fmt::Write as _;

/// The language of the verdict.
#[derive(Clone, Copy, Default, PartialEq, Eq, ValueEnum)]
pub enum Speech {
    /// English.
    #[default]
    En,
    /// Spanish.
    Es,
}

/// The whole text, ended by a line feed.
pub fn text(verdict: &Verdict, speech: Speech) -> String {
    let words = if speech == Speech::Es { &ES } else { &EN };
    let mut lines = vec![(if verdict.good { words.good } else { words.bad }).to_owned()];
    lines.extend(verdict.job.iter().map(|job| format!("{}: {job}", words.job)));
    section(&mut lines, words.refused, statements(&verdict.problems, speech, Kind::Problem));
    section(&mut lines, words.signed, verdict.logs.iter().flat_map(|log| signer(log, words)).collect());
    section(&mut lines, words.times, times(verdict, words));
    section(&mut lines, words.doubts, statements(&verdict.doubts, speech, Kind::Doubt));
    section(&mut lines, words.proven, statements(&verdict.proven, speech, Kind::Proven));
    section(&mut lines, words.not_proven, statements(&verdict.not_proven, speech, Kind::NotProven));
    let photos = &verdict.photos;
    let out = photos.absent.saturating_sub(photos.redacted).saturating_sub(photos.missing);
    let covered = photos.redacted.saturating_sub(photos.stripped);
    let counts =
        [photos.present, covered, photos.stripped, photos.missing, out].map(|count| count.to_string());
    lines.push(String::new());
    lines.push(format!("{}: {}", words.photos, counts.join(" / ")));
    lines.push(format!("{}: {} / {}", words.values, verdict.disclosed, verdict.withheld));
    lines.join("\n") + "\n"
}

fn section(lines: &mut Vec<String>, title: &str, items: Vec<String>) {
    if !items.is_empty() {
        lines.extend([String::new(), title.to_owned()]);
        lines.extend(items.iter().map(|item| format!("  - {item}")));
    }
}

fn signer(log: &LogVerdict, words: &Words) -> Vec<String> {
    let mut said = vec![format!("{}: {} {}", log.device, log.records, words.records)];
    for key in &log.keys {
        let mut line = format!("{}: {}", words.key, key.words);
        let came = match key.came {
            KeyCame::First => "",
            KeyCame::Named => words.named,
            KeyCame::AfterLoss => words.after_loss,
        };
        if key.came != KeyCame::First {
            let _ = write!(line, " ({} {}: {came})", words.from_record, key.from);
        }
        let trust = if key.trusted { words.trusted } else { words.compare };
        said.push(format!("{line}\n      {}\n      {trust}", key.fingerprint));
    }
    said
}

fn times(verdict: &Verdict, words: &Words) -> Vec<String> {
    let mut said: Vec<String> = Vec::new();
    for time in &verdict.times {
        let (stamp, trust) = (&time.stamp, if time.trusted { words.by_named } else { words.by_stranger });
        let size = format!("{} {} {}", words.first, time.size, words.records);
        said.push(format!(
            "{}: {size}, {} {}: {} ({trust})",
            time.device, words.by, stamp.time, stamp.authority
        ));
    }
    said.push(
        if verdict.times.iter().any(|time| time.trusted) { words.others } else { words.own_clock }.to_owned(),
    );
    said
}

#[derive(Clone, Copy)]
enum Kind {
    Problem,
    Proven,
    NotProven,
    Doubt,
}

/// In English as the verifier says it; in Spanish by what it is about, because the verifier speaks English alone.
fn statements(findings: &[Finding], speech: Speech, kind: Kind) -> Vec<String> {
    let one = |finding: &Finding| {
        let said = match (speech, kind) {
            (Speech::En, _) => finding.what.clone(),
            (Speech::Es, Kind::Proven) => proven(finding.code).to_owned(),
            (Speech::Es, Kind::NotProven) => not_proven(finding.code).to_owned(),
            (Speech::Es, Kind::Doubt) => {
                format!("el reloj del dispositivo no corrió como el tiempo ({})", finding.what)
            }
            (Speech::Es, Kind::Problem) => format!("{} ({})", problem(finding.code), finding.what),
        };
        finding.place.iter().fold(said, |said, place| format!("{place}: {said}"))
    };
    let mut said: Vec<String> = findings.iter().map(one).collect();
    said.dedup();
    said
}

#[cfg(test)]
mod tests {
    use super::*;
    use evidence::packet::Code;

    fn about(codes: &[Code]) -> Vec<Finding> {
        codes.iter().map(|code| Finding { code: *code, place: None, what: "detail".to_owned() }).collect()
    }

    /// What the verifier says in each list (see its source): none may come out empty or unexplained in Spanish.
    #[test]
    fn whatever_the_verifier_says_has_spanish_words() {
        use Code::*;
        let said = [
            Container, Manifest, Signature, Timestamp, Chain, Photo, Report, Disclosure, Key, Redaction,
            Stripped, Tail,
        ];
        let open = [
            Timestamp,
            OtherLogs,
            Photo,
            Disclosure,
            Key,
            Redaction,
            Stripped,
            PhotoMissing,
            Tail,
            Truth,
            Texts,
        ];
        let wrong = [
            Container,
            Manifest,
            Signature,
            Timestamp,
            Chain,
            OtherLogs,
            Photo,
            Report,
            Disclosure,
            Key,
            Redaction,
            Stripped,
            PhotoMissing,
            Tail,
            Fork,
        ];
        assert!(said.iter().all(|code| !proven(*code).is_empty()));
        assert!(open.iter().all(|code| not_proven(*code) != not_proven(Container)));
        assert!(wrong.iter().all(|code| problem(*code) != problem(Truth)));
    }

    #[test]
    fn a_bad_verdict_says_first_what_is_wrong_and_both_languages_have_the_same_parts() {
        let verdict = Verdict {
            problems: about(&[Code::Photo]),
            doubts: about(&[Code::Clock]),
            proven: about(&[Code::Chain]),
            not_proven: about(&[Code::Truth]),
            ..Verdict::default()
        };
        let (en, es) = (text(&verdict, Speech::En), text(&verdict, Speech::Es));
        assert!(en.starts_with("BAD:") && es.starts_with("INCORRECTO:"));
        assert!(en.find(EN.refused) < en.find(EN.times) && en.contains(EN.own_clock));
        assert_eq!(en.lines().count(), es.lines().count());
        let good = Verdict { good: true, ..Verdict::default() };
        assert!(
            text(&good, Speech::En).starts_with("GOOD:") && !text(&good, Speech::En).contains(EN.refused)
        );
    }
}
