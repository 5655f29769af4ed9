use crate::error::print_json;
use crate::remembered::Remembered;
use crate::verdict_words::{self, Speech};
use clap::Args;
use evidence::packet::{self, Options, Progress, Verdict};
use evidence::timestamp::AuthorityRoot;
use evidence::{Digest, HandedOver};
use std::fs::File;
use std::io::{BufReader, IsTerminal, Write};
use std::ops::ControlFlow;
use std::path::{Path, PathBuf};
use std::process::ExitCode;

/// Verify a packet by its bytes.
#[derive(Args)]
pub struct Verify {
    /// The packet (a zip).
    packet: PathBuf,
    /// Fingerprint that the customer was given: 64 hexadecimal digits. May be given several times.
    #[arg(long, value_name = "HEX")]
    fingerprint: Vec<Digest>,
    /// A checkpoint that was handed over: the text of the code, of the message, or its three lines in a file. Proves
    /// that the packet's log has grown from it: the records it covers are those you were given, and no others. May be
    /// given several times.
    #[arg(long, value_name = "FILE")]
    checkpoint: Vec<PathBuf>,
    /// Certificate of a time-stamp authority that you trust (PEM or DER), fetched from the authority itself. May be
    /// given several times.
    #[arg(long, value_name = "FILE")]
    authority_root: Vec<PathBuf>,
    /// Keeps the newest head seen of each log in this file. At the next check the log must be the same or have grown from it;
    /// else the verdict is bad, names both heads, and the file stays as it is.
    #[arg(long, value_name = "FILE")]
    remember: Option<PathBuf>,
    /// Language of the verdict.
    #[arg(long, value_enum, default_value_t)]
    language: Speech,
    /// The verdict as JSON (schema `verdict`).
    #[arg(long)]
    json: bool,
}

impl Verify {
    pub fn run(self) -> ExitCode {
        match self.verdict() {
            Ok(verdict) => {
                let shown = if self.json {
                    print_json(&verdict).is_ok()
                } else {
                    let text = verdict_words::text(&verdict, self.language);
                    std::io::stdout().write_all(text.as_bytes()).is_ok()
                };
                if shown { ExitCode::from(verdict.exit_code()) } else { ExitCode::from(2) }
            }
            Err(problem) => {
                eprintln!("testimeter: {problem}");
                ExitCode::from(2)
            }
        }
    }

    fn verdict(&self) -> Result<Verdict, String> {
        let mut options = self.options()?;
        let remembered = self.remember.as_deref().map(Remembered::read).transpose()?;
        options.remembered = remembered.iter().flat_map(Remembered::notes).collect();
        let said = |cause: String| format!("{}: {cause}", self.packet.display());
        let file = File::open(&self.packet).map_err(|e| said(format!("could not be read: {e}")))?;
        let mut reader = BufReader::with_capacity(64 << 10, file);
        let mut progress = Shown::default();
        let verdict = packet::verify(&mut reader, &options, &mut |step| progress.show(step));
        progress.clear();
        let verdict = verdict.map_err(|e| said(e.to_string()))?;
        if let Some(remembered) = remembered.filter(|_| verdict.good) {
            remembered.keep(&verdict)?;
        }
        Ok(verdict)
    }

    fn options(&self) -> Result<Options, String> {
        let mut options = Options { trusted_fingerprints: self.fingerprint.clone(), ..Options::default() };
        for path in &self.checkpoint {
            let said = |cause: String| format!("{}: {cause}", path.display());
            let text = String::from_utf8(read(path)?).map_err(|_| said("it is not text".into()))?;
            let handed_over = HandedOver::read(&text).map_err(|e| said(e.to_string()))?;
            match handed_over.signed {
                Some(note) => options.expected_notes.push(note),
                None => options.expected_checkpoints.push(handed_over.checkpoint),
            }
        }
        for path in &self.authority_root {
            let roots = AuthorityRoot::read(&read(path)?);
            options.authority_roots.extend(roots.map_err(|e| format!("{}: {e}", path.display()))?);
        }
        Ok(options)
    }
}

/// Certificates and checkpoints are small; a longer file was named by mistake.
fn read(path: &Path) -> Result<Vec<u8>, String> {
    let said = |cause: String| format!("{}: could not be read: {cause}", path.display());
    let length = std::fs::metadata(path).map_err(|e| said(e.to_string()))?.len();
    if length > 1 << 20 {
        return Err(said("it is too long for a checkpoint or certificate".into()));
    }
    std::fs::read(path).map_err(|e| said(e.to_string()))
}

/// Per cent done on standard error, where a person looks at it; the verdict alone goes to standard output.
#[derive(Default)]
struct Shown {
    percent: Option<u64>,
}

impl Shown {
    fn show(&mut self, step: Progress) -> ControlFlow<()> {
        let percent = step.done.saturating_mul(100).checked_div(step.total).unwrap_or(100);
        if self.percent != Some(percent) && std::io::stderr().is_terminal() {
            eprint!("\r{percent:>3} % of {} MB", step.total / 1_000_000);
            self.percent = Some(percent);
        }
        ControlFlow::Continue(())
    }

    fn clear(&self) {
        if self.percent.is_some() {
            eprint!("\r{:<40}\r", "");
        }
    }
}
