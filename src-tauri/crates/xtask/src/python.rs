//! The prebuilt tools of the checks, in a virtual environment of the tree's own.
use crate::error::{Error, at};
use crate::program::Program;
use crate::tree;

const TOOLS: &str = ".config/checks-tools.txt";

/// Installs the pinned list, when it is not the one installed last.
pub fn install() -> Result<(), Error> {
    let list = tree::root().join(TOOLS);
    let installed = tree::tools().join("installed-tools.txt");
    let wanted = std::fs::read(&list).map_err(at(&list))?;
    if std::fs::read(&installed).is_ok_and(|present| present == wanted) {
        return Ok(());
    }
    Program::new(&["python3", "-m", "venv", "--clear"]).and(&tree::tools()).run()?;
    Program::new(&["python", "-m", "pip", "install", "--quiet", "--disable-pip-version-check", "-r"])
        .and(&list)
        .run()?;
    std::fs::write(&installed, wanted).map_err(at(&installed))
}
