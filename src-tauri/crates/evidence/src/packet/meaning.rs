//! Whether records that refer to each other say the same: an approval and its estimate, a bill and its approval, a finding
//! and its readings, a report and the checkpoint it prints; and which readings their photos seemed to contradict. Only what is public in the records here is compared; bodies are
//! read by the names of their fields, and what another version wrote without them isn't judged.

use super::ledger::Ledger;
use super::place;
use super::said::Said;
use super::says::{Doubt, Open, Proven, Wrong};
use super::verdict::{Code, Findings};
use crate::Digest;

/// Compares over all logs. With `complete`, every log of the job is here: then what isn't found doesn't exist.
pub fn check(logs: &[(&str, &Ledger)], complete: bool, findings: &mut Findings) {
    let before = findings.problems.len();
    let all = Logs { logs, complete };
    for (device, ledger) in logs {
        all.check_approvals(device, ledger, findings);
        all.check_bills(device, ledger, findings);
        all.check_findings(device, ledger, findings);
        check_reports(device, ledger, findings);
        say_against_photo(device, ledger, findings);
    }
    let count = |of: fn(&Said) -> usize| logs.iter().map(|(_, ledger)| of(&ledger.said) as u64).sum::<u64>();
    let (approvals, bills) = (count(|said| said.approvals.len()), count(|said| said.bills.len()));
    let (named, reports) = (count(|said| said.findings.len()), count(|said| said.reports.len()));
    if findings.problems.len() == before && [approvals, bills, named, reports].iter().any(|count| *count > 0)
    {
        findings.proven(Code::Meaning, Proven::SensesFit { approvals, bills, findings: named, reports });
    }
}

struct Logs<'a> {
    logs: &'a [(&'a str, &'a Ledger)],
    complete: bool,
}

impl Logs<'_> {
    /// Of an estimate, lines may be declined and the total may be limited: no more is approved than it comes to.
    fn check_approvals(&self, device: &str, ledger: &Ledger, findings: &mut Findings) {
        for approval in &ledger.said.approvals {
            let total =
                self.logs.iter().find_map(|(_, ledger)| ledger.said.estimates.get(&approval.estimate));
            match total {
                Some(total) if approval.amount <= *total => {}
                Some(total) => {
                    let wrong = Wrong::ApprovalAmount { approved: approval.amount, total: *total };
                    findings.problem(Code::Meaning, &place::record_path(device, approval.sequence), wrong);
                }
                None => self.unknown(device, approval.sequence, Wrong::EstimateUnknown, findings),
            }
        }
    }

    /// A bill is held against the approval in force, with what was billed and credited before it: where one device wrote
    /// all, the last approval before it that was neither a no nor taken back.
    fn check_bills(&self, device: &str, ledger: &Ledger, findings: &mut Findings) {
        let mut billed = 0_i64;
        for (sequence, asked, held) in &ledger.said.bills {
            let path = place::record_path(device, *sequence);
            match in_force(&ledger.said, *sequence) {
                Some(approved) if self.complete && self.logs.len() == 1 && approved != *held => {
                    let wrong = Wrong::BillAgainst { held: *held, approved };
                    findings.problem(Code::Meaning, &path, wrong);
                }
                _ if !self.approved(*held) => {
                    self.unknown(device, *sequence, Wrong::BillUnapproved { held: *held }, findings);
                }
                _ => {}
            }
            billed = billed.saturating_add(*asked);
            let credits = ledger.said.credits.iter().filter(|(place, _)| place < sequence);
            let credited = credits.fold(0_i64, |sum, (_, amount)| sum.saturating_add(*amount));
            let asked = billed.saturating_sub(credited);
            if asked > *held {
                findings.doubt(Code::Meaning, &path, Doubt::BillOver { asked, approved: *held });
            }
        }
    }

    fn approved(&self, amount: i64) -> bool {
        let approvals = self.logs.iter().flat_map(|(_, ledger)| &ledger.said.approvals);
        approvals.into_iter().any(|approval| !approval.declined && approval.amount == amount)
    }

    fn check_findings(&self, device: &str, ledger: &Ledger, findings: &mut Findings) {
        for (sequence, named) in &ledger.said.findings {
            let known =
                |leaf: &&Digest| self.logs.iter().any(|(_, ledger)| ledger.said.readings.contains(leaf));
            let readings = named.iter().filter(|leaf| !known(leaf)).count() as u64;
            if readings > 0 {
                self.unknown(device, *sequence, Wrong::ReadingUnknown { readings }, findings);
            }
        }
    }

    fn unknown(&self, device: &str, sequence: u64, wrong: Wrong, findings: &mut Findings) {
        let path = place::record_path(device, sequence);
        if self.complete {
            findings.problem(Code::Meaning, &path, wrong);
        } else {
            let record = sequence.saturating_add(1);
            let open = Open::RecordAbsent { device: device.to_owned(), record };
            findings.not_proven(Code::Meaning, Some(&path), open);
        }
    }
}

/// The amount of the approval that holds before a record.
fn in_force(said: &Said, before: u64) -> Option<i64> {
    let back = |leaf: &Digest| said.withdrawn.iter().any(|(place, of)| *place < before && of == leaf);
    let earlier = said.approvals.iter().filter(|approval| approval.sequence < before);
    let holds = earlier.rev().find(|approval| !approval.declined && !back(&approval.leaf));
    holds.map(|approval| approval.amount)
}

/// A reading that its photo seemed to contradict isn't wrong for that; whoever reads the packet looks at the photo.
fn say_against_photo(device: &str, ledger: &Ledger, findings: &mut Findings) {
    for (sequence, kept, seen) in &ledger.said.against_photo {
        let doubt = Doubt::KeptAgainstPhoto { kept: kept.clone(), seen: seen.clone() };
        findings.doubt(Code::Photo, &place::record_path(device, *sequence), doubt);
    }
}

/// The printed checkpoint is that of the records before the report's own.
fn check_reports(device: &str, ledger: &Ledger, findings: &mut Findings) {
    for (sequence, size, root) in &ledger.said.reports {
        if *size > *sequence || ledger.tree.root_at(*size) != Some(*root) {
            let wrong = Wrong::ReportCheckpoint { records: *size };
            findings.problem(Code::Meaning, &place::record_path(device, *sequence), wrong);
        }
    }
}
