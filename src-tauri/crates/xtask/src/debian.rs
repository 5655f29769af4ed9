//! Debian packages: which we need, which are missing, how to install them.
use crate::error::Error;
use crate::program::Program;

/// What building and opening the window needs.
pub const RUN: &[&str] =
    &["build-essential", "fonts-dejavu-core", "libssl-dev", "libwebkit2gtk-4.1-dev", "pkg-config"];

/// The reference programs and screens that the checks compare us with.
pub const CHECKS: &[&str] = &[
    "age",
    "chromium",
    "dbus",
    "golang-go",
    "golang-golang-x-mod-dev",
    "hledger",
    "imagemagick",
    "libimage-exiftool-perl",
    "libvips-tools",
    "ngspice",
    "openssl",
    "poppler-utils",
    "python3",
    "python3-venv",
    "qpdf",
    "sqlite3",
    "ssocr",
    "strace",
    "tesseract-ocr",
    "unzip",
    "webkit2gtk-driver",
    "xauth",
    "xxd",
    "xvfb",
    "zbar-tools",
    "zint",
    "zip",
];

/// Installs what is missing, or says the one line that does. On other systems it says what it would look for.
pub fn install(packages: &[&str]) -> Result<(), Error> {
    if !Program::new(&["dpkg-query", "--version"]).succeeds() {
        println!("This is no Debian system; see that these are installed: {}", packages.join(" "));
        return Ok(());
    }
    let missing: Vec<&str> = packages.iter().copied().filter(|package| !is_installed(package)).collect();
    if missing.is_empty() {
        return Ok(());
    }
    let apt = ["apt-get", "install", "-y", "--no-install-recommends"];
    let install: Vec<&str> = apt.into_iter().chain(missing).collect();
    match as_root() {
        Some(prefix) => {
            Program::new(&[prefix, &["apt-get", "update", "-q"]].concat()).run()?;
            Program::new(&[prefix, &install].concat()).with("DEBIAN_FRONTEND", "noninteractive").run()
        }
        None => Err(Error::Packages { line: format!("apt-get update && {}", install.join(" ")) }),
    }
}

pub fn is_installed(package: &str) -> bool {
    let status = Program::new(&["dpkg-query", "--show", "--showformat", "${db:Status-Status}", package]);
    // dpkg's complaint about an unknown package would only confuse: unknown is missing.
    status.quiet_output().is_some_and(|status| status == "installed")
}

/// The words to put before a command so that it runs as root; `None` when this user may not.
fn as_root() -> Option<&'static [&'static str]> {
    let user = Program::new(&["id", "-u"]).quiet_output()?;
    if user.trim() == "0" {
        return Some(&[]);
    }
    Program::new(&["sudo", "-n", "true"]).succeeds().then_some(&["sudo", "-n"])
}
