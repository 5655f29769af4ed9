//! Set-up: what a machine needs before the app runs or the checks do.
use crate::error::Error;
use crate::program::Program;
use crate::{debian, node, python, tree};

/// The one tool that no registry holds prebuilt: name and version to compile.
const MACHETE: (&str, &str) = ("cargo-machete", "0.9.2");

/// For `cargo xtask run`.
pub fn for_running() -> Result<(), Error> {
    debian::install(debian::RUN)?;
    node::install()
}

/// For `cargo xtask test` and `bench`: the reference programs that both compare us with.
pub fn for_checking() -> Result<(), Error> {
    debian::install(&[debian::RUN, debian::CHECKS].concat())?;
    node::install()?;
    python::install()
}

/// For `cargo xtask test --all`, and all there is.
pub fn everything() -> Result<(), Error> {
    for_checking()?;
    compile_machete()
}

fn compile_machete() -> Result<(), Error> {
    let (name, version) = MACHETE;
    let installed = Program::new(&[name, "--version"]).quiet_output();
    if installed.is_some_and(|words| words.trim().ends_with(version)) {
        return Ok(());
    }
    Program::new(&["cargo", "install", "--locked", "--version", version, name, "--root"])
        .and(&tree::tools())
        .run()
}
