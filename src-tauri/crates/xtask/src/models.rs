//! The networks that read papers: fetched from a package of others, checked by their hashes, never part of the tree.
use clap::Args;
use sha2::{Digest, Sha256};
use std::fs;
use std::path::{Path, PathBuf};

use crate::error::{Error, at};
use crate::program::Program;
use crate::{python, tree};

/// The package on PyPI, its license Apache-2.0, that of the networks in it too (its file MODEL_LICENSES.md).
const PACKAGE: &str = "rapidocr==3.10.0";
const PACKAGE_SHA256: &str = "2fc34e26cd0f48514804a94f8832283039c7334076bff60768b1fed9ad068050";

/// Place in the package, name here, SHA-256. The licenses lie beside what they allow.
const FILES: [(&str, &str, &str); 4] = [
    (
        "rapidocr/models/PP-OCRv6_det_small.onnx",
        "finder.onnx",
        "090f04abcd9d9a7498bc4ebf677e4cb9bdce1fe4197ddb7e529f1ef44e1ff94f",
    ),
    (
        "rapidocr/models/PP-OCRv6_rec_small.onnx",
        "reader.onnx",
        "6f327246b50388f3c176ae304bd95767ea6dc0c9ae92153ef8cbe210b3c14884",
    ),
    (
        "rapidocr-3.10.0.dist-info/licenses/LICENSE",
        "LICENSE",
        "3e0af25fdd06aa9586ae97adb00ea927ebe5a3805ac77d2d3a81ce5f55693333",
    ),
    (
        "rapidocr-3.10.0.dist-info/licenses/MODEL_LICENSES.md",
        "MODEL_LICENSES.md",
        "c5fd0e8603d3df743355b546121e6fe0f4ef8ff455c5a85c1681fd3ae520e153",
    ),
];

#[derive(Args)]
pub struct Models {
    /// A data folder of the app, which then reads papers; without it, cargo's target folder.
    #[arg(long, value_name = "DIR")]
    into: Option<PathBuf>,
}

impl Models {
    pub fn go(self) -> Result<(), Error> {
        let folder = fetch(&self.into.unwrap_or_else(tree::target))?;
        println!("{}", folder.display());
        Ok(())
    }
}

/// Sees that the networks lie in `models/paper` of a folder, fetching them when one isn't what it should be.
pub fn fetch(within: &Path) -> Result<PathBuf, Error> {
    let folder = within.join("models/paper");
    if FILES.iter().all(|(_, name, hash)| is(&folder.join(name), hash)) {
        return Ok(folder);
    }
    python::install()?;
    let unpacked = unpacked()?;
    fs::create_dir_all(&folder).map_err(at(&folder))?;
    for (place, name, hash) in FILES {
        let from = unpacked.join(place);
        if !is(&from, hash) {
            return Err(Error::Found(format!(
                "{} isn't the file that was looked at: its hash differs",
                from.display()
            )));
        }
        let to = folder.join(name);
        fs::copy(&from, &to).map_err(at(&to))?;
    }
    Ok(folder)
}

fn is(path: &Path, hash: &str) -> bool {
    let hex = |bytes: &[u8]| bytes.iter().map(|byte| format!("{byte:02x}")).collect::<String>();
    fs::read(path).is_ok_and(|bytes| hex(&Sha256::digest(&bytes)) == hash)
}

/// The package's files: it is downloaded only as the one whose hash is known.
fn unpacked() -> Result<PathBuf, Error> {
    let folder = tree::target().join("models/package");
    if folder.exists() {
        fs::remove_dir_all(&folder).map_err(at(&folder))?;
    }
    fs::create_dir_all(&folder).map_err(at(&folder))?;
    let list = folder.join("wanted.txt");
    fs::write(&list, format!("{PACKAGE} --hash=sha256:{PACKAGE_SHA256}\n")).map_err(at(&list))?;
    let words = ["python", "-m", "pip", "download", "--quiet", "--disable-pip-version-check", "--no-deps"];
    let download =
        Program::new(&[&words[..], &["--only-binary", ":all:", "--require-hashes", "-r"]].concat());
    download.and(&list).more("--dest").and(&folder).run()?;
    let package = folder.join("rapidocr-3.10.0-py3-none-any.whl");
    let unpacked = folder.join("files");
    Program::new(&["python", "-m", "zipfile", "-e"]).and(&package).and(&unpacked).run()?;
    Ok(unpacked)
}
