use crate::error::print_json;
use clap::Args;
use evidence::Digest;
use evidence::packet::{self, Finding, Options, Verdict};
use std::fs::File;
use std::io::BufReader;
use std::ops::ControlFlow;
use std::path::PathBuf;
use std::process::ExitCode;

/// Verify a packet by its bytes.
#[derive(Args)]
pub struct Verify {
    /// The packet (a zip).
    packet: PathBuf,
    /// Fingerprint that the customer was given: 64 hexadecimal digits.
    #[arg(long, value_name = "HEX")]
    fingerprint: Option<Digest>,
    /// The verdict as JSON.
    #[arg(long)]
    json: bool,
}

impl Verify {
    pub fn run(self) -> ExitCode {
        match self.verdict() {
            Ok(verdict) => {
                let shown = if self.json { print_json(&verdict).is_ok() } else { print(&verdict) };
                if shown { ExitCode::from(verdict.exit_code()) } else { ExitCode::from(2) }
            }
            Err(problem) => {
                eprintln!("testimeter: {}: {problem}", self.packet.display());
                ExitCode::from(2)
            }
        }
    }

    fn verdict(&self) -> Result<Verdict, String> {
        let file = File::open(&self.packet).map_err(|e| format!("could not be read: {e}"))?;
        let mut reader = BufReader::with_capacity(1 << 20, file);
        let trusted = self.fingerprint.into_iter().collect();
        let options = Options { trusted_fingerprints: trusted, ..Options::default() };
        packet::verify(&mut reader, &options, &mut |_| ControlFlow::Continue(())).map_err(|e| e.to_string())
    }
}

fn print(verdict: &Verdict) -> bool {
    println!(
        "{}",
        if verdict.good {
            "GOOD: nothing was changed since it was sealed."
        } else {
            "BAD: do not rely on this packet."
        }
    );
    for log in &verdict.logs {
        let words = log.words.as_deref().unwrap_or("no readable key");
        println!("Log of {}: {} records; key: {words}", log.device, log.records);
    }
    println!("Photos: {} present, {} left out.", verdict.photos.present, verdict.photos.absent);
    list("Refused", &verdict.problems);
    list("Proven", &verdict.proven);
    list("Not proven", &verdict.not_proven);
    true
}

fn list(title: &str, findings: &[Finding]) {
    if !findings.is_empty() {
        println!("{title}:");
    }
    for finding in findings {
        match &finding.place {
            Some(place) => println!("  - {place}: {}", finding.what),
            None => println!("  - {}", finding.what),
        }
    }
}
