//! What is said of records that were signed one by one.

use super::heads::stretches;
use super::log_check::CheckedLog;
use super::says::{Open, Proven};
use super::verdict::{Code, Findings, Stretch};

/// Says which records have a signature of their own and which only that of a later checkpoint; nothing of a log without any.
pub fn say(logs: &[CheckedLog<'_>], findings: &mut Findings) {
    for log in logs.iter().filter(|log| !log.heads.is_empty()) {
        let (device, mut next) = (log.device.to_owned(), 1);
        let together = |first: u64, last: u64, findings: &mut Findings| {
            if first <= last {
                let device = log.device.to_owned();
                findings.proven_unless(Code::Signature, Proven::SignedTogether { device, first, last });
            }
        };
        for Stretch { first, last } in stretches(&log.heads) {
            together(next, first.saturating_sub(1), findings);
            let device = device.clone();
            findings.proven_unless(Code::Signature, Proven::SignedAlone { device, first, last });
            next = last.saturating_add(1);
        }
        together(next, log.ledger.size(), findings);
        findings.not_proven(Code::Signature, None, Open::AloneByWhom { device });
    }
}
