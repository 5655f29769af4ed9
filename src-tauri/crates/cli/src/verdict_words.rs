//! A verdict as text for somebody who has never seen one. The sentences are the verifier's own; headings are here.

use crate::verdict_words_en::{EN, Words};
use crate::verdict_words_es::ES;
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
    let headline = &verdict.headline_said;
    let mut lines = vec![if speech == Speech::Es { &headline.es } else { &headline.en }.clone()];
    lines.extend(verdict.job.iter().map(|job| format!("{}: {job}", words.job)));
    section(&mut lines, words.refused, statements(&verdict.problems, speech));
    section(&mut lines, words.signed, verdict.logs.iter().flat_map(|log| signer(log, words)).collect());
    section(&mut lines, words.doubts, statements(&verdict.doubts, speech));
    section(&mut lines, words.proven, statements(&verdict.proven, speech));
    section(&mut lines, words.not_proven, statements(&verdict.not_proven, speech));
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
    let records = if log.records == 1 { words.record } else { words.records };
    let mut said = vec![format!("{}: {} {records}", log.device, log.records)];
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

/// Each once, behind the place it is about.
fn statements(findings: &[Finding], speech: Speech) -> Vec<String> {
    let one = |finding: &Finding| {
        let said = if speech == Speech::Es { &finding.what_es } else { &finding.what };
        finding.place.iter().fold(said.clone(), |said, place| format!("{place}: {said}"))
    };
    let mut said: Vec<String> = findings.iter().map(one).collect();
    said.dedup();
    said
}

#[cfg(test)]
mod tests {
    use super::*;
    use evidence::packet::{Code, Doubt, Headline, Open, Proven, Signer, Statement, Wrong};

    fn about(code: Code, says: Statement) -> Vec<Finding> {
        vec![Finding::new(code, None, says)]
    }

    #[test]
    fn a_bad_verdict_says_first_what_is_wrong_and_both_languages_have_the_same_parts() {
        let verdict = Verdict {
            headline_said: Headline::Refused.said(),
            problems: about(Code::Photo, Statement::Wrong(Wrong::PhotoBytes)),
            doubts: about(Code::Clock, Statement::Doubt(Doubt::ClockWentBack { ms: 5000 })),
            proven: about(Code::Chain, Statement::Proven(Proven::RecordsUnchanged { records: 7 })),
            not_proven: about(Code::Truth, Statement::Open(Open::Truth)),
            ..Verdict::default()
        };
        let (en, es) = (text(&verdict, Speech::En), text(&verdict, Speech::Es));
        assert!(en.starts_with("BAD:") && es.starts_with("INCORRECTO:"));
        assert!(en.find(EN.refused) < en.find(EN.proven) && en.find(EN.proven) < en.find(EN.not_proven));
        assert!(en.contains("7 records") && es.contains("7 registros"));
        assert_eq!(en.lines().count(), es.lines().count());
    }

    #[test]
    fn the_first_line_names_the_key_and_claims_no_more() {
        let signer = Signer {
            device: "bench-phone".into(),
            fingerprint: "ab".repeat(32),
            words: "abandon ability".into(),
        };
        let headline_said = Headline::Unchanged { signers: vec![signer] }.said();
        let good = Verdict { good: true, headline_said, ..Verdict::default() };
        let (en, es) = (text(&good, Speech::En), text(&good, Speech::Es));
        assert!(en.starts_with("Unchanged since this key sealed it: \"abandon ability\""), "{en}");
        assert!(es.starts_with("Sin cambios desde que lo selló esta clave: \"abandon ability\""), "{es}");
        assert!(!en.contains(EN.refused) && en.contains(&"ab".repeat(32)));
    }
}
