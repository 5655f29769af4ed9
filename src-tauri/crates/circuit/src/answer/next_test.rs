//! Tests worth doing, and tests that are withheld.

use schemars::JsonSchema;
use serde::{Deserialize, Serialize};

/// A test worth doing.
#[derive(Debug, Clone, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct NextTest {
    /// Test id.
    pub test: String,
    /// Expected information about which part is at fault, bits.
    pub gain_bits: f64,
    /// Minutes.
    pub minutes: f64,
    /// Bits per minute.
    pub per_minute: f64,
    /// Bits still unknown, at the pace of this test and the best one after it (one-step roll-out); sorted by it.
    pub expected_minutes: f64,
    /// Caution codes to show first.
    pub cautions: Vec<String>,
    /// What a healthy circuit would show (V, ohm, A), for readings.
    pub healthy: Option<f64>,
    /// Expected cents of bench time until the cause is proven, beginning with this test; only with the shop's rate.
    #[serde(default)]
    pub expected_cents: Option<f64>,
}

/// A test not offered.
#[derive(Debug, Clone, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct WithheldTest {
    /// Test id.
    pub test: String,
    /// Why.
    pub why: WithheldCode,
    /// Tests that would open it.
    pub needs: Vec<String>,
    /// Its caution codes.
    pub cautions: Vec<String>,
}

/// Why a test isn't offered.
#[derive(Debug, Clone, Copy, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum WithheldCode {
    /// Something must be proven first.
    NeedsProofFirst,
    /// The technician said it can't be reached.
    CannotReach,
    /// The meter has no such mode.
    MeterCannot,
    /// Already done with the complaint present; a repeat tells nothing new.
    AlreadyDone,
}
