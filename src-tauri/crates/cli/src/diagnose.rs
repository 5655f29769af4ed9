use crate::error::{CliError, print_json, read_json};
use crate::plain_words::{Language, sentences, unsaid};
use ::circuit::{Meter, Observation, Options};
use clap::Args;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

/// Weigh readings from a file on a circuit.
#[derive(Args)]
pub struct Diagnose {
    /// Circuit: an id of the library, a circuit file, or a composition of blocks.
    circuit: String,
    /// Readings: a JSON file (schema `readings`).
    readings: PathBuf,
    /// The whole result as JSON.
    #[arg(long)]
    json: bool,
    /// Language of the sentences.
    #[arg(long, value_enum, default_value_t = Language::En)]
    language: Language,
}

/// A file of readings.
#[derive(Clone, Debug, Serialize, Deserialize, JsonSchema)]
#[serde(deny_unknown_fields)]
pub struct Readings {
    /// Meter; an ordinary one if not given.
    #[serde(default)]
    pub meter: Meter,
    /// Tests that can't be reached.
    #[serde(default)]
    pub cannot_reach: Vec<String>,
    /// What else the engine can be told: further meters, pins in doubt, closed jobs, prices. Tests that can't be
    /// reached are those of both lists.
    #[serde(default)]
    pub options: Options,
    /// Readings in the order they were taken. What a reading's state leaves out is as its test wants it; without a test every
    /// position is weighed.
    pub observations: Vec<Observation>,
}

impl Diagnose {
    pub fn run(self) -> Result<(), CliError> {
        let circuit = crate::circuit::named(&self.circuit)?;
        let readings: Readings = read_json(&self.readings)?;
        let mut options = readings.options;
        options.cannot_reach.extend(readings.cannot_reach);
        let mut observations = readings.observations;
        for seen in &mut observations {
            // Never the usual position without a word: the same volts mean something else with the key off.
            if let Some(line) = unsaid(&circuit, seen, self.language) {
                eprintln!("{line}");
            }
            seen.state = circuit.whole_state(seen.test.as_deref(), &seen.state);
        }
        let diagnosis = ::circuit::diagnose(&circuit, &readings.meter, &observations, &options)?;
        if self.json {
            return print_json(&diagnosis);
        }
        sentences(&circuit, &diagnosis, self.language).iter().for_each(|line| println!("{line}"));
        Ok(())
    }
}
