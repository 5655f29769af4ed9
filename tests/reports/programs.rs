//! Running outside programs on a PDF. A program that isn't installed fails the test: `cargo xtask setup` installs them.

use std::path::{Path, PathBuf};
use std::process::Command;

/// A PDF on disk.
pub struct Printed {
    folder: tempfile::TempDir,
    pub path: PathBuf,
}

impl Printed {
    pub fn new(pdf: &[u8]) -> Printed {
        let folder = tempfile::tempdir().unwrap();
        let path = folder.path().join("report.pdf");
        std::fs::write(&path, pdf).unwrap();
        Printed { folder, path }
    }

    /// Text of all pages, in reading order, every white space made one space.
    pub fn text(&self) -> String {
        let text = run("pdftotext", &["-enc", "UTF-8", path(&self.path), "-"]);
        text.split_whitespace().collect::<Vec<_>>().join(" ")
    }

    /// What `pdfinfo` says under a name.
    pub fn info(&self, name: &str) -> String {
        let info = run("pdfinfo", &[path(&self.path)]);
        let line = info.lines().find_map(|line| line.strip_prefix(&format!("{name}:")));
        line.unwrap_or_default().trim().to_owned()
    }

    /// The embedded pictures as files, each as often as it is shown.
    pub fn pictures(&self) -> Vec<PathBuf> {
        let prefix = self.folder.path().join("picture");
        run("pdfimages", &["-all", path(&self.path), path(&prefix)]);
        let entries = std::fs::read_dir(self.folder.path()).unwrap().map(|e| e.unwrap().path());
        let mut pictures: Vec<PathBuf> =
            entries.filter(|p| p.extension().is_some_and(|e| e == "jpg")).collect();
        pictures.sort();
        pictures
    }

    /// How many pictures the file holds: objects, not places where they are shown.
    pub fn picture_objects(&self) -> usize {
        let list = run("pdfimages", &["-list", path(&self.path)]);
        let objects = list.lines().skip(2).filter_map(|line| line.split_whitespace().nth(10));
        objects.collect::<std::collections::BTreeSet<_>>().len()
    }
}

/// Standard output; the test fails if the program is missing or refuses.
pub fn run(program: &str, arguments: &[&str]) -> String {
    let output = Command::new(program).args(arguments).output();
    let output =
        output.unwrap_or_else(|e| panic!("{program} can't be run ({e}): install it with the set-up"));
    let (out, err) = (String::from_utf8_lossy(&output.stdout), String::from_utf8_lossy(&output.stderr));
    assert!(output.status.success(), "{program} {arguments:?}: {out}{err}");
    out.into_owned()
}

pub fn path(path: &Path) -> &str {
    path.to_str().unwrap()
}
