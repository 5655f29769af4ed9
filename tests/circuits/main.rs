//! Circuits against the world outside: ngspice side by side, plain enumeration, whole searches with a hidden fault.
#![allow(
    clippy::unwrap_used,
    clippy::expect_used,
    clippy::panic,
    clippy::indexing_slicing,
    clippy::unimplemented,
    clippy::string_slice,
    reason = "a check may stop at the first thing that is wrong"
)]

mod alternating;
mod bayes;
mod bench;
mod checker;
mod continuity;
mod control_side;
mod decks;
mod diagrams;
mod entered;
mod families;
mod gate;
mod harness;
mod inference;
mod kinds;
mod known_values;
mod laws;
mod ngspice;
mod pins;
mod policy;
mod posterior;
mod properties;
mod range;
mod recordings;
mod search;
mod solid_state;
mod solver;
mod soundness;
mod starters;
mod stories;
mod two_faults;
mod unknown_state;

// The searches of the trials, solved without the engine.
#[path = "../trials/random.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod random;
#[path = "../trials/separable.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod separable;
#[path = "../trials/technician.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod technician;
#[path = "../trials/policy.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod trial_policy;
#[path = "../trials/truth.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod truth;
#[path = "../trials/vehicle.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod vehicle;
#[path = "../trials/world.rs"]
#[allow(dead_code, reason = "the trials use more of it")]
mod world;

type Failure = Box<dyn std::error::Error + Send + Sync>;
