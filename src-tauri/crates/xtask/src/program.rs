//! Starting other programs: shown before they run, their output left as it is.
use std::ffi::OsString;
use std::path::{Path, PathBuf};
use std::process::{Command, Stdio};

use crate::error::Error;
use crate::tree;

/// A program to run at the top of the tree, with our tools first on its path and nothing to read.
pub struct Program {
    command: Command,
    shown: String,
}

impl Program {
    pub fn new(words: &[&str]) -> Program {
        let (name, arguments) =
            words.split_first().map_or(("true", [].as_slice()), |(name, rest)| (*name, rest));
        let mut command = Command::new(name);
        command.args(arguments).current_dir(tree::root()).stdin(Stdio::null());
        // The user interface is built once, by `node::build`; see build.rs of the shell.
        command.env("PATH", path_with_tools()).env("SKIP_UI", "1");
        Program { command, shown: words.join(" ") }
    }

    pub fn within(mut self, folder: &Path) -> Program {
        self.command.current_dir(folder);
        self
    }

    pub fn with(mut self, variable: &str, value: &str) -> Program {
        self.command.env(variable, value);
        self
    }

    pub fn and(mut self, argument: &Path) -> Program {
        self.command.arg(argument);
        self.shown = format!("{} {}", self.shown, argument.display());
        self
    }

    pub fn more(self, argument: &str) -> Program {
        self.and(Path::new(argument))
    }

    /// Shows the command and runs it; an exit code other than 0 is an error.
    pub fn run(self) -> Result<(), Error> {
        let command = self.shown.clone();
        let status = self.status()?;
        if status.success() { Ok(()) } else { Err(Error::Failed { command, status }) }
    }

    /// Shows the command, runs it and gives back how it ended.
    pub fn status(mut self) -> Result<std::process::ExitStatus, Error> {
        println!("$ {}", self.shown);
        self.command.status().map_err(|reason| self.not_started(reason))
    }

    /// What the program prints on standard output; an exit code other than 0 is an error.
    pub fn output(mut self) -> Result<String, Error> {
        let output =
            self.command.stderr(Stdio::inherit()).output().map_err(|reason| self.not_started(reason))?;
        if !output.status.success() {
            return Err(Error::Failed { command: self.shown, status: output.status });
        }
        Ok(String::from_utf8_lossy(&output.stdout).into_owned())
    }

    /// What the program prints, or nothing if it can't be started or fails; its complaints are not shown.
    pub fn quiet_output(mut self) -> Option<String> {
        let output = self.command.output().ok()?;
        output.status.success().then(|| String::from_utf8_lossy(&output.stdout).into_owned())
    }

    /// Whether the program starts and says 0, without a word on the screen.
    pub fn succeeds(mut self) -> bool {
        let status = self.command.stdout(Stdio::null()).stderr(Stdio::null()).status();
        status.is_ok_and(|status| status.success())
    }

    fn not_started(&self, reason: std::io::Error) -> Error {
        Error::NotStarted { program: self.command.get_program().to_string_lossy().into_owned(), reason }
    }
}

fn path_with_tools() -> OsString {
    let system = std::env::var_os("PATH").unwrap_or_default();
    let folders: Vec<PathBuf> =
        std::iter::once(tree::tools().join("bin")).chain(std::env::split_paths(&system)).collect();
    // Only a folder name with a colon can't be joined; then the system's path alone must do.
    std::env::join_paths(folders).unwrap_or(system)
}
