//! Time from outside: checkpoints wait for a time-stamp by every authority the user chose, and nobody is asked by
//! default. What an authority answers is checked before it becomes a record.

use crate::act::Settles;
use crate::entry::AuthorityEntry;
use crate::view::{AuthoritiesView, AuthorityView, OutsideTimeView, RootView, WaitingView};
use crate::{ApiError, Workshop, settings, typed};
use authority::{Address, AskError, Limits};
use chrono::{DateTime, SecondsFormat};
use evidence::timestamp::{self, AuthorityRoot, TimestampBody, TimestampError};
use evidence::{LogId, SignedCheckpoint};
use job::{Event, Job};
use serde::{Deserialize, Serialize};
use store::TimeStampWaiting;

const AUTHORITIES: &str = "authorities";
/// First pause after a failed try, doubled with each further one, milliseconds.
const FIRST_PAUSE: i64 = 60_000;
/// Longest pause: six hours.
const LONGEST_PAUSE: i64 = 6 * 3_600_000;

/// An authority as it is kept in the settings.
#[derive(Clone, Debug, PartialEq, Eq, Serialize, Deserialize)]
struct Chosen {
    address: String,
    /// Certificates that its time-stamps must lead to (PEM); empty: none was named.
    roots: String,
}

/// Why a try brought no token.
enum Failure {
    Ask(AskError),
    Answer(TimestampError),
    Api(ApiError),
}

impl Workshop {
    /// The chosen authorities and what waits for them.
    ///
    /// # Errors
    /// A store that can't be read.
    pub fn authorities_view(&self) -> Result<AuthoritiesView, ApiError> {
        let authorities = self.authorities()?.into_iter().map(|chosen| AuthorityView {
            encrypted: chosen.address.starts_with("https://"),
            roots: roots_of(&chosen).iter().map(root_view).collect(),
            address: chosen.address,
        });
        let waiting = self.store.timestamp_queue()?;
        Ok(AuthoritiesView {
            authorities: authorities.collect(),
            waiting: waiting.iter().map(|waiting| self.waiting_view(waiting)).collect::<Result<_, _>>()?,
        })
    }

    /// Chooses an authority, or changes its roots. Checkpoints signed from now on wait for it.
    ///
    /// # Errors
    /// An address that can't be asked, a file without a certificate.
    pub fn authority_keep(&self, entry: &AuthorityEntry) -> Result<AuthoritiesView, ApiError> {
        let address: Address = entry.address.parse()?;
        let roots = typed::text("roots", &entry.roots)?;
        if !roots.is_empty() {
            AuthorityRoot::read(roots.as_bytes())?;
        }
        let mut chosen = self.authorities()?;
        chosen.retain(|one| one.address != address.as_str());
        chosen.push(Chosen { address: address.as_str().to_owned(), roots });
        self.keep_authorities(&chosen)?;
        self.authorities_view()
    }

    /// Asks this authority no longer. What waits for it waits no more; tokens on record stay.
    ///
    /// # Errors
    /// A store that can't be written to.
    pub fn authority_remove(&self, address: &str) -> Result<AuthoritiesView, ApiError> {
        let mut chosen = self.authorities()?;
        chosen.retain(|one| one.address != address);
        self.keep_authorities(&chosen)?;
        for waiting in self.store.timestamp_queue()?.iter().filter(|waiting| waiting.authority == address) {
            self.store.timestamp_queue_settle(waiting)?;
        }
        self.authorities_view()
    }

    /// Asks for every time-stamp that is due (`all`: for every one that waits). A try that fails is tried again later.
    ///
    /// # Errors
    /// A store that can't be read or written to; a network that can't be reached is no error but a later try.
    pub fn timestamps_fetch(&self, all: bool) -> Result<AuthoritiesView, ApiError> {
        self.work.begin("timestamps");
        let fetched = self.fetch(all);
        self.work.end();
        fetched?;
        self.authorities_view()
    }

    /// Every checkpoint waits for every authority.
    pub(crate) fn queue_for_time(&self, log: &LogId, size: u64) -> Result<(), ApiError> {
        let now = self.now_ms();
        for chosen in self.authorities()? {
            self.store.timestamp_queue_put(log, size, &chosen.address, now)?;
        }
        Ok(())
    }

    /// The times from outside that a job has on record, checked.
    pub(crate) fn outside_times(&self, job: &Job, job_id: &str) -> Result<Vec<OutsideTimeView>, ApiError> {
        if job.timestamps.is_empty() {
            return Ok(Vec::new());
        }
        let checkpoints = self.store.checkpoints(job_id)?;
        let authorities = self.authorities()?;
        let view = |body: &TimestampBody| {
            let stamped = checkpoints.iter().find(|stored| {
                stored
                    .signed
                    .checkpoint()
                    .is_ok_and(|signed| signed.size == body.size && signed.root == body.root)
            });
            let known = authorities.iter().find(|chosen| chosen.address == body.authority);
            outside_time(body, stamped.map(|stored| &stored.signed), &known.map(roots_of).unwrap_or_default())
        };
        Ok(job.timestamps.iter().map(|kept| view(&kept.event)).collect())
    }

    /// Roots of all chosen authorities, for the verifier.
    pub(crate) fn authority_roots(&self) -> Result<Vec<AuthorityRoot>, ApiError> {
        Ok(self.authorities()?.iter().flat_map(roots_of).collect())
    }

    fn fetch(&self, all: bool) -> Result<(), ApiError> {
        self.drop_overtaken()?;
        let due = match all {
            true => self.store.timestamp_queue()?,
            false => self.store.timestamp_queue_due(self.now_ms(), LONGEST_PAUSE)?,
        };
        let total = due.len() as u64;
        for (done, waiting) in due.iter().enumerate() {
            // Steps are shown in units of the progress bar's kibibytes.
            if !self.work.step("timestamps", (done as u64).saturating_mul(1024), total.saturating_mul(1024)) {
                return Ok(());
            }
            match self.stamp(waiting) {
                Ok(()) => {}
                // What one job refuses must not hold up the others.
                Err(Failure::Api(error @ ApiError::Refused(_))) => {
                    self.try_later(waiting, &error.to_string())?
                }
                Err(Failure::Api(error)) => return Err(error),
                Err(Failure::Ask(error)) => self.try_later(waiting, &error.to_string())?,
                Err(Failure::Answer(error)) => self.try_later(waiting, &error.to_string())?,
            }
        }
        Ok(())
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

    fn try_later(&self, waiting: &TimeStampWaiting, why: &str) -> Result<(), ApiError> {
        let doublings = waiting.attempts.min(10);
        let pause = FIRST_PAUSE.saturating_mul(1 << doublings).min(LONGEST_PAUSE);
        Ok(self.store.timestamp_queue_failed(waiting, why, self.now_ms().saturating_add(pause))?)
    }

    fn waiting_view(&self, waiting: &TimeStampWaiting) -> Result<WaitingView, ApiError> {
        let number = self.store.job(&waiting.log.job)?.map_or(0, |row| row.number);
        let next = DateTime::from_timestamp_millis(waiting.next_try);
        Ok(WaitingView {
            job: waiting.log.job.clone(),
            number: u32::try_from(number).unwrap_or(u32::MAX),
            authority: waiting.authority.clone(),
            attempts: waiting.attempts,
            next_try: next.map(|time| time.to_rfc3339_opts(SecondsFormat::Secs, true)).unwrap_or_default(),
            last_error: waiting.last_error.clone(),
        })
    }

    fn authorities(&self) -> Result<Vec<Chosen>, ApiError> {
        let kept = self.store.setting(AUTHORITIES)?.unwrap_or_else(|| serde_json::json!([]));
        settings::read(AUTHORITIES, kept)
    }

    fn keep_authorities(&self, chosen: &[Chosen]) -> Result<(), ApiError> {
        Ok(self.store.set_setting(AUTHORITIES, &settings::written(AUTHORITIES, &chosen)?)?)
    }

    fn now_ms(&self) -> i64 {
        let wall = self.clock.moment().wall;
        DateTime::parse_from_rfc3339(&wall).map_or(0, |time| time.timestamp_millis())
    }
}

fn outside_time(
    body: &TimestampBody,
    signed: Option<&SignedCheckpoint>,
    roots: &[AuthorityRoot],
) -> OutsideTimeView {
    let checked = body.token_bytes().ok().zip(signed).map(|(token, signed)| {
        let judge = |roots: &[AuthorityRoot]| {
            timestamp::check(&token, signed.text.as_bytes(), body.nonce_number().ok(), roots)
        };
        // A root that doesn't fit is said; the time itself is then read without one.
        judge(roots).map(|stamp| (stamp, "")).or_else(|error| judge(&[]).map(|stamp| (stamp, error.code())))
    });
    let size = u32::try_from(body.size).unwrap_or(u32::MAX);
    let view = OutsideTimeView { size, authority: body.authority.clone(), ..OutsideTimeView::default() };
    match checked {
        Some(Ok((stamp, trouble))) => {
            let trusted = stamp.root.is_some();
            OutsideTimeView {
                time: stamp.time,
                signer: stamp.authority,
                trusted,
                trouble: trouble.to_owned(),
                ..view
            }
        }
        Some(Err(error)) => OutsideTimeView { trouble: error.code().to_owned(), ..view },
        None => OutsideTimeView { trouble: "malformed".to_owned(), ..view },
    }
}

fn roots_of(chosen: &Chosen) -> Vec<AuthorityRoot> {
    // Checked when it was chosen; an unreadable setting is the same as no root named.
    AuthorityRoot::read(chosen.roots.as_bytes()).unwrap_or_default()
}

fn root_view(root: &AuthorityRoot) -> RootView {
    RootView { name: root.name(), fingerprint: root.fingerprint().to_string() }
}

/// A number that tells this answer from an older one.
fn random_number() -> Result<u64, ApiError> {
    let mut bytes = [0; 8];
    getrandom::fill(&mut bytes).map_err(|_| ApiError::NoRandomness)?;
    Ok(u64::from_be_bytes(bytes))
}
