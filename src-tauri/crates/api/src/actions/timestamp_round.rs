//! One round of questions to the time-stamp authorities. One that doesn't answer is left alone for the rest of the round:
//! two hundred checkpoints that wait for it would take more than an hour of time-outs, and hold up the other authorities.

use super::timestamps::roots_of;
use crate::act::Settles;
use crate::{ApiError, Workshop};
use authority::{Address, AskError, Limits};
use evidence::SignedCheckpoint;
use evidence::timestamp::{self, TimestampBody, TimestampError};
use job::Event;
use std::collections::BTreeMap;
use std::sync::PoisonError;
use store::TimeStampWaiting;

/// First pause after a failed try, doubled with each further one, milliseconds.
const FIRST_PAUSE: i64 = 60_000;
/// Longest pause: six hours.
const LONGEST_PAUSE: i64 = 6 * 3_600_000;

/// Why a try brought no token.
enum Failure {
    Ask(AskError),
    Answer(TimestampError),
    Api(ApiError),
}

/// An authority that didn't answer in this round.
struct Silence {
    why: String,
    /// When what waits for it is tried again.
    next_try: i64,
}

impl Workshop {
    /// Asks for what is due; see [`Workshop::timestamps_fetch`].
    pub(super) fn ask_round(&self, all: bool) -> Result<(), ApiError> {
        self.drop_overtaken()?;
        let due = match all {
            true => self.store.timestamp_queue()?,
            false => self.store.timestamp_queue_due(self.now_ms(), LONGEST_PAUSE)?,
        };
        let total = due.len() as u64;
        let mut silent: BTreeMap<String, Silence> = BTreeMap::new();
        for (done, waiting) in due.iter().enumerate() {
            // Steps are shown in units of the progress bar's kibibytes.
            if !self.work.step("timestamps", (done as u64).saturating_mul(1024), total.saturating_mul(1024)) {
                break;
            }
            if let Some(silence) = silent.get(&waiting.authority) {
                self.store.timestamp_queue_postponed(waiting, &silence.why, silence.next_try)?;
                continue;
            }
            let stamped = self.stamp(waiting);
            let nobody_there = matches!(&stamped, Err(Failure::Ask(error)) if error.nobody_there());
            self.note_silence(&waiting.authority, nobody_there);
            match stamped {
                Ok(()) => {}
                // What one job refuses must not hold up the others.
                Err(Failure::Api(error @ ApiError::Refused(_))) => {
                    self.try_later(waiting, &error.to_string())?;
                }
                Err(Failure::Api(error)) => return Err(error),
                Err(Failure::Ask(error)) => {
                    let next_try = self.try_later(waiting, &error.to_string())?;
                    if nobody_there {
                        let silence = Silence { why: error.to_string(), next_try };
                        silent.insert(waiting.authority.clone(), silence);
                    }
                }
                Err(Failure::Answer(error)) => drop(self.try_later(waiting, &error.to_string())?),
            }
        }
        Ok(())
    }

    /// What the screen says about an authority until it is asked again.
    fn note_silence(&self, authority: &str, nobody_there: bool) {
        let mut silent = self.silent.lock().unwrap_or_else(PoisonError::into_inner);
        if nobody_there {
            silent.insert(authority.to_owned());
        } else {
            silent.remove(authority);
        }
    }

    /// A stamp on the newest checkpoint of a log covers the earlier ones: it would give them no earlier time.
    fn drop_overtaken(&self) -> Result<(), ApiError> {
        let queue = self.store.timestamp_queue()?;
        let newer = |waiting: &TimeStampWaiting| {
            queue.iter().any(|other| {
                other.log == waiting.log && other.authority == waiting.authority && other.size > waiting.size
            })
        };
        for waiting in queue.iter().filter(|waiting| newer(waiting)) {
            self.store.timestamp_queue_settle(waiting)?;
        }
        Ok(())
    }

    fn stamp(&self, waiting: &TimeStampWaiting) -> Result<(), Failure> {
        let signed = self.waiting_checkpoint(waiting)?;
        let chosen = self.authorities().map_err(Failure::Api)?;
        let chosen = chosen.into_iter().find(|chosen| chosen.address == waiting.authority);
        let address: Address = waiting.authority.parse().map_err(Failure::Ask)?;
        let nonce = random_number().map_err(Failure::Api)?;
        let question = timestamp::query(signed.text.as_bytes(), nonce).map_err(Failure::Answer)?;
        let answer = authority::ask(&address, &question, &Limits::default()).map_err(Failure::Ask)?;
        let token = timestamp::token_of_reply(&answer).map_err(Failure::Answer)?;
        let roots = chosen.as_ref().map(roots_of).unwrap_or_default();
        timestamp::check(&token, signed.text.as_bytes(), Some(nonce), &roots).map_err(Failure::Answer)?;
        let checkpoint = signed.checkpoint().map_err(|error| Failure::Api(error.into()))?;
        let body = TimestampBody::new(&waiting.authority, &checkpoint, nonce, &token);
        self.keep_stamp(waiting, &Event::Timestamp(body)).map_err(Failure::Api)
    }

    /// The token becomes a record, and its waiting ends in the same transaction.
    fn keep_stamp(&self, waiting: &TimeStampWaiting, event: &Event) -> Result<(), ApiError> {
        let _turn = self.store.turn();
        let mut loaded = self.load_to_change(&waiting.log.job)?;
        let settles = Settles { time_stamp: Some(waiting), ..Settles::default() };
        self.admit(&mut loaded, event, &settles)?;
        self.keep_fold(loaded);
        Ok(())
    }

    fn waiting_checkpoint(&self, waiting: &TimeStampWaiting) -> Result<SignedCheckpoint, Failure> {
        let stored = self.store.checkpoints(&waiting.log.job).map_err(|error| Failure::Api(error.into()))?;
        let named =
            stored.into_iter().find(|one| one.device == waiting.log.device && one.size == waiting.size);
        let unknown = || ApiError::Unknown { what: "checkpoint", value: waiting.size.to_string() };
        named.map(|stored| stored.signed).ok_or_else(|| Failure::Api(unknown()))
    }

    /// Returns when it is tried again, milliseconds since 1970.
    fn try_later(&self, waiting: &TimeStampWaiting, why: &str) -> Result<i64, ApiError> {
        let doublings = waiting.attempts.min(10);
        let pause = FIRST_PAUSE.saturating_mul(1 << doublings).min(LONGEST_PAUSE);
        let next_try = self.now_ms().saturating_add(pause);
        self.store.timestamp_queue_failed(waiting, why, next_try)?;
        Ok(next_try)
    }
}

/// A number that tells this answer from an older one.
fn random_number() -> Result<u64, ApiError> {
    let mut bytes = [0; 8];
    getrandom::fill(&mut bytes).map_err(|_| ApiError::NoRandomness)?;
    Ok(u64::from_be_bytes(bytes))
}
