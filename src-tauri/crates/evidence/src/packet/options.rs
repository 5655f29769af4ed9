//! What is handed to a check besides the packet.

use crate::timestamp::AuthorityRoot;
use crate::{Checkpoint, Digest, SignedCheckpoint};

/// What the caller knows from outside the packet.
#[derive(Clone, Debug, Default)]
pub struct Options {
    /// Fingerprints of device keys handed over earlier; each must belong to a log of the packet, or lead to one by
    /// signed statements.
    pub trusted_fingerprints: Vec<Digest>,
    /// Checkpoints handed over or kept earlier; the packet's log must be the same or have grown from it.
    pub expected_checkpoints: Vec<Checkpoint>,
    /// The same with their signatures, which must be by a key of the log: then two histories of one log are proven to
    /// be the work of whoever holds that key.
    pub expected_notes: Vec<SignedCheckpoint>,
    /// Newest heads that the caller saw at earlier checks. The log must be the same or have grown from them; that says nothing
    /// of who handed them over, so it proves less than the two above. Those of other jobs are overlooked.
    pub remembered: Vec<SignedCheckpoint>,
    /// Roots of time-stamp authorities that the caller trusts. Without them no time from outside is proven.
    pub authority_roots: Vec<AuthorityRoot>,
    /// How many threads hash; all cores if none.
    pub threads: Option<usize>,
}
