use super::code;
use crate::view::{ProblemView, VerificationView};
use evidence::packet::{Finding, Verdict};

/// A verdict of the verifier for the screen.
pub(crate) fn verification(verdict: &Verdict) -> VerificationView {
    let codes = |findings: &[Finding]| {
        let mut codes: Vec<String> = findings.iter().map(|f| code(&f.code)).collect();
        codes.dedup();
        codes
    };
    let log = verdict.logs.first();
    VerificationView {
        good: verdict.good,
        proven: codes(&verdict.proven),
        not_proven: codes(&verdict.not_proven),
        problems: verdict.problems.iter().map(problem).collect(),
        fingerprint: log.and_then(|l| l.fingerprint).map(|f| f.to_string()).unwrap_or_default(),
        fingerprint_words: log.and_then(|l| l.words.clone()).unwrap_or_default(),
        records: small(verdict.logs.iter().map(|l| l.records).sum()),
        photos: small(verdict.photos.present),
    }
}

fn problem(finding: &Finding) -> ProblemView {
    ProblemView { place: finding.place.clone().unwrap_or_default(), what: finding.what.clone() }
}

fn small(count: u64) -> u32 {
    u32::try_from(count).unwrap_or(u32::MAX)
}
