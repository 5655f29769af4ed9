use super::*;

/// Authorities that are asked for the time, and what waits for them.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct AuthoritiesView {
    /// Chosen authorities; none by default.
    pub authorities: Vec<AuthorityView>,
    /// Checkpoints that wait for a time-stamp.
    pub waiting: Vec<WaitingView>,
}

/// One authority.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct AuthorityView {
    /// Its address.
    pub address: String,
    /// True when the way to it is encrypted.
    pub encrypted: bool,
    /// True when it didn't answer in the last round since the start; what waits for it is asked for in the next one.
    pub unreachable: bool,
    /// Certificates its time-stamps must lead to; empty when none was named.
    pub roots: Vec<RootView>,
}

/// A root certificate.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct RootView {
    /// What it calls itself.
    pub name: String,
    /// SHA-256, hexadecimal.
    pub fingerprint: String,
}

/// A checkpoint that waits for a time-stamp.
#[derive(Clone, Debug, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct WaitingView {
    /// Job id.
    pub job: String,
    /// Job number.
    pub number: u32,
    /// Address of the authority.
    pub authority: String,
    /// Tries in vain.
    pub attempts: u32,
    /// Next try, RFC 3339 in UTC.
    pub next_try: String,
    /// Why the last try failed, in English; empty before the first.
    pub last_error: String,
}

/// A time that an authority stated over a checkpoint of the job.
#[derive(Clone, Debug, Default, Serialize, JsonSchema, TS)]
#[ts(export)]
pub struct OutsideTimeView {
    /// Records the checkpoint covers: these existed by that time.
    pub size: u32,
    /// The time, RFC 3339 in UTC; empty when the token can't be read.
    pub time: String,
    /// What the signer's certificate calls itself.
    pub signer: String,
    /// Address it was asked at.
    pub authority: String,
    /// True when it leads to a root that was named.
    pub trusted: bool,
    /// Code of what is wrong with it; empty when nothing is.
    pub trouble: String,
}
