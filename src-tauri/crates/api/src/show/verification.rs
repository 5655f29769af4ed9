use crate::view::{ProblemView, SaidView, VerificationView};
use evidence::packet::{Finding, Said, Verdict};

/// A verdict of the verifier for the screen, in the verifier's own words.
pub(crate) fn verification(verdict: &Verdict) -> VerificationView {
    let log = verdict.logs.first();
    VerificationView {
        good: verdict.good,
        headline: said(&verdict.headline_said),
        proven: verdict.proven.iter().map(sentence).collect(),
        not_proven: verdict.not_proven.iter().map(sentence).collect(),
        doubts: verdict.doubts.iter().map(problem).collect(),
        problems: verdict.problems.iter().map(problem).collect(),
        fingerprint: log.and_then(|l| l.fingerprint).map(|f| f.to_string()).unwrap_or_default(),
        fingerprint_words: log.and_then(|l| l.words.clone()).unwrap_or_default(),
        records: small(verdict.logs.iter().map(|l| l.records).sum()),
        photos: small(verdict.photos.present),
    }
}

fn problem(finding: &Finding) -> ProblemView {
    ProblemView { place: finding.place.clone().unwrap_or_default(), what: sentence(finding) }
}

fn sentence(finding: &Finding) -> SaidView {
    SaidView { en: finding.what.clone(), es: finding.what_es.clone() }
}

fn said(said: &Said) -> SaidView {
    SaidView { en: said.en.clone(), es: said.es.clone() }
}

fn small(count: u64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
