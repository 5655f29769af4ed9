//! The time-stamps that lie beside the checkpoints of one log.

use std::collections::BTreeMap;

use super::clock::ALLOWED_MS;
use super::ledger::Ledger;
use super::options::Options;
use super::place;
use super::says::{Doubt, Open, Proven, Wrong};
use super::verdict::{Code, Findings, OutsideTime};
use crate::Checkpoint;
use crate::timestamp::{self, Stamp, TimestampError};

/// Everything needed to judge the tokens of one log.
pub struct Stamps<'a> {
    /// The device.
    pub device: &'a str,
    /// What the records hold.
    pub ledger: &'a Ledger,
    /// By number: the checkpoints whose signature fits.
    pub checkpoints: &'a BTreeMap<u32, Checkpoint>,
    /// By number of the checkpoint and count: the tokens.
    pub tokens: &'a BTreeMap<(u32, u32), Vec<u8>>,
}

impl Stamps<'_> {
    /// Judges every token against its checkpoint, and every record that holds one against the tokens.
    pub fn check(&self, options: &Options, findings: &mut Findings) -> Vec<OutsideTime> {
        let mut times = Vec::new();
        for (&(number, count), token) in self.tokens {
            let path = self.path(number, count);
            let Some(checkpoint) = self.checkpoints.get(&number) else {
                findings.problem(Code::Timestamp, &path, Wrong::StampAlone);
                continue;
            };
            if count > 1 && !self.tokens.contains_key(&(number, count - 1)) {
                findings.problem(Code::Timestamp, &path, Wrong::StampBeforeMissing);
            }
            let nonce = self.nonce_of(token);
            match judge(token, checkpoint.text().as_bytes(), nonce, options) {
                Err(cause) => {
                    let (fault, detail) = (cause.code().to_owned(), cause.to_string());
                    findings.problem(Code::Timestamp, &path, Wrong::StampBad { fault, detail });
                }
                Ok(stamp) => times.push(OutsideTime {
                    device: self.device.to_owned(),
                    size: checkpoint.size,
                    trusted: stamp.root.is_some(),
                    stamp,
                    place: path,
                }),
            }
        }
        self.check_records(findings);
        self.compare_with_clock(&times, findings);
        times
    }

    /// Every token in a record must lie beside the checkpoint it names.
    fn check_records(&self, findings: &mut Findings) {
        for (sequence, body) in &self.ledger.stamps {
            let path = place::record_path(self.device, *sequence);
            let stamped = self
                .checkpoints
                .iter()
                .filter(|(_, checkpoint)| (checkpoint.size, checkpoint.root) == (body.size, body.root));
            let numbers: Vec<u32> = stamped.map(|(number, _)| *number).collect();
            let token = body.token_bytes().ok();
            let lies_there = self
                .tokens
                .iter()
                .any(|((number, _), bytes)| numbers.contains(number) && Some(bytes) == token.as_ref());
            if numbers.is_empty() || body.size > *sequence {
                findings.problem(Code::Timestamp, &path, Wrong::StampedLater);
            } else if !lies_there {
                findings.problem(Code::Timestamp, &path, Wrong::StampNotBeside);
            }
        }
    }

    /// The number that was sent for this token, if a record says so.
    fn nonce_of(&self, token: &[u8]) -> Option<u64> {
        let holds = |body: &timestamp::TimestampBody| body.token_bytes().is_ok_and(|bytes| bytes == token);
        let (_, body) = self.ledger.stamps.iter().find(|(_, body)| holds(body))?;
        body.nonce_number().ok()
    }

    /// A trusted time says something about the device's clock: the records it covers can't be from later, and the
    /// record that holds the token not from earlier.
    fn compare_with_clock(&self, times: &[OutsideTime], findings: &mut Findings) {
        for time in times.iter().filter(|time| time.trusted) {
            let accuracy = i64::try_from(time.stamp.accuracy_ms.unwrap_or_default()).unwrap_or(ALLOWED_MS);
            let allowed = ALLOWED_MS.saturating_add(accuracy.min(ALLOWED_MS));
            let covered =
                (0_u64..).zip(&self.ledger.clock.walls).take(usize::try_from(time.size).unwrap_or(0));
            let latest = covered.max_by_key(|(_, wall)| **wall);
            if let Some((sequence, wall)) = latest {
                let ahead = wall.saturating_sub(time.stamp.unix_ms);
                if ahead > allowed {
                    let place = place::record_path(self.device, sequence);
                    findings.doubt(Code::Clock, &place, Doubt::ClockAhead { ms: ahead });
                }
            }
            self.compare_with_record(time, allowed, findings);
        }
    }

    fn compare_with_record(&self, time: &OutsideTime, allowed: i64, findings: &mut Findings) {
        let stamped =
            self.tokens.iter().find(|&(&(number, count), _)| self.path(number, count) == time.place);
        let Some((_, token)) = stamped else { return };
        for (sequence, body) in &self.ledger.stamps {
            let wall = usize::try_from(*sequence).ok().and_then(|place| self.ledger.clock.walls.get(place));
            let behind = wall.map_or(0, |wall| time.stamp.unix_ms.saturating_sub(*wall));
            if behind > allowed && body.token_bytes().is_ok_and(|bytes| bytes == *token) {
                let place = place::record_path(self.device, *sequence);
                findings.doubt(Code::Clock, &place, Doubt::ClockBehind { ms: behind });
            }
        }
    }

    fn path(&self, number: u32, count: u32) -> String {
        format!("{}/{}", place::log_folder(self.device), place::timestamp_name(number, count))
    }
}

/// With the named roots first; a token by another authority is still checked in itself.
fn judge(token: &[u8], text: &[u8], nonce: Option<u64>, options: &Options) -> Result<Stamp, TimestampError> {
    match timestamp::check(token, text, nonce, &options.authority_roots) {
        Err(TimestampError::UnknownRoot) => timestamp::check(token, text, nonce, &[]),
        judged => judged,
    }
}

/// What can be said about the time, over all logs.
pub fn say(times: &[OutsideTime], options: &Options, findings: &mut Findings) {
    for time in times {
        let (device, last) = (time.device.clone(), time.size);
        let (stated, authority) = (time.stamp.time.clone(), time.stamp.authority.clone());
        if time.trusted {
            findings.proven(Code::Timestamp, Proven::ExistedBy { device, last, time: stated, authority });
        } else {
            let roots = options.authority_roots.len() as u64;
            let claim = Open::TimeClaimed { device, last, time: stated, authority, roots };
            findings.not_proven(Code::Timestamp, Some(&time.place), claim);
        }
    }
    if !times.iter().any(|time| time.trusted) {
        findings.not_proven(Code::Timestamp, None, Open::NoTime);
    }
}
