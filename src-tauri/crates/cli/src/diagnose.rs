use crate::error::{CliError, print_json, read_json};
use ::circuit::{Circuit, Diagnosis, Meter, Observation, Options};
use clap::Args;
use schemars::JsonSchema;
use serde::{Deserialize, Serialize};
use std::path::PathBuf;

/// Weigh readings from a file on a circuit.
#[derive(Args)]
pub struct Diagnose {
    /// Circuit: an id of the library, or a circuit file.
    circuit: String,
    /// Readings: a JSON file (schema `readings`).
    readings: PathBuf,
    /// The whole result as JSON.
    #[arg(long)]
    json: bool,
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
    /// Readings in the order they were taken.
    pub observations: Vec<Observation>,
}

impl Diagnose {
    pub fn run(self) -> Result<(), CliError> {
        let circuit = crate::circuit::named(&self.circuit)?;
        let readings: Readings = read_json(&self.readings)?;
        let options = Options { cannot_reach: readings.cannot_reach, ..Options::default() };
        let diagnosis = ::circuit::diagnose(&circuit, &readings.meter, &readings.observations, &options)?;
        if self.json {
            return print_json(&diagnosis);
        }
        print(&circuit, &diagnosis);
        Ok(())
    }
}

fn print(circuit: &Circuit, diagnosis: &Diagnosis) {
    println!("{} ({})", circuit.title.en, diagnosis.engine);
    for cause in diagnosis.causes.iter().filter(|c| c.probability >= 0.001) {
        println!("  {:>6.2} %  {}", cause.probability * 100.0, cause.id);
    }
    println!("  {:>6.2} %  something this circuit does not contain", diagnosis.unmodelled * 100.0);
    for module in &diagnosis.modules {
        let verdict = if module.may_be_called { "may be called the cause" } else { "not proven" };
        println!("Module {}: {verdict}", module.module);
        for missing in &module.missing {
            let test = missing.test.as_deref().map(|t| format!(" (test {t})")).unwrap_or_default();
            let about = missing.about.as_deref().map(|a| format!(" {a}")).unwrap_or_default();
            println!("  missing: {:?}{about}{test}", missing.code);
        }
    }
    for next in &diagnosis.next {
        println!("Next: {} ({:.2} bits, {} min)", next.test, next.gain_bits, next.minutes);
    }
    for doubt in &diagnosis.doubts {
        println!("Doubt: {:?} between {}", doubt.code, doubt.observations.join(" and "));
    }
    println!(
        "The maker's service information, local codes and a licensed technician's judgement come first."
    );
}
