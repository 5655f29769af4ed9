use super::RecordKind;
use super::check::{self, Unusable};
use super::descriptor::{Descriptor, EVERYBODY, Field};
use evidence::Digest;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use serde_json::Value;
use std::collections::BTreeMap;

/// A finding freezes circuit, readings, result and engine version.
#[derive(Clone, Debug, PartialEq, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct FindingKept {
    /// What is said.
    pub outcome: Outcome,
    /// Cause id, empty when not proven.
    #[serde(default)]
    pub cause: String,
    /// Name of the cause in English.
    #[serde(default)]
    pub cause_en: String,
    /// Name of the cause in Spanish.
    #[serde(default)]
    pub cause_es: String,
    /// Probability, decimal.
    #[serde(default)]
    pub probability: String,
    /// Code of the word for it.
    #[serde(default)]
    pub likelihood: String,
    /// The technician's own words. Withheld.
    #[serde(default)]
    pub words: String,
    /// Engine version.
    pub engine: String,
    /// Circuit id.
    pub circuit: String,
    /// SHA-256 of the circuit file.
    pub circuit_sha256: Digest,
    /// Readings it rests on (leaves of their records).
    pub readings: Vec<Digest>,
    /// The shop's own closed jobs that were counted: cause id → how often it was the proven cause.
    #[serde(default, skip_serializing_if = "BTreeMap::is_empty")]
    pub closed_jobs: BTreeMap<String, u32>,
    /// The engine's whole result, numbers as decimal strings.
    pub result: Value,
}

/// What a finding says.
#[derive(Clone, Copy, Debug, PartialEq, Eq, Serialize, Deserialize, JsonSchema)]
#[serde(rename_all = "snake_case")]
pub enum Outcome {
    /// A cause other than the module is called.
    CauseCalled,
    /// The module is called: the gate was open.
    ModuleCalled,
    /// Not proven yet.
    NotProven,
}

impl RecordKind for FindingKept {
    const DESCRIPTOR: Descriptor = Descriptor::new(
        "finding_kept",
        &[
            Field::public("outcome"),
            Field::public("cause"),
            Field::public("cause_en"),
            Field::public("cause_es"),
            Field::public("probability"),
            Field::public("likelihood"),
            Field::withheld("words", EVERYBODY),
            Field::public("engine"),
            Field::public("circuit"),
            Field::public("circuit_sha256"),
            Field::public("readings"),
            Field::public("closed_jobs"),
            Field::public("result"),
        ],
    )
    .signed();

    fn check(&self) -> Result<(), Unusable> {
        if self.probability.is_empty() {
            return Ok(());
        }
        check::decimal("probability", &self.probability, 0.0, 1.0)
    }
}
