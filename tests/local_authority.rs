//! A time-stamp authority on this machine, for checks: OpenSSL behind a small HTTP server.
#![allow(clippy::expect_used, clippy::panic)] // A check without its outside program must fail loudly.

use std::io::{BufRead, BufReader};
use std::path::{Path, PathBuf};
use std::process::{Child, Command, Stdio};

/// The authority; it ends when this is dropped.
#[derive(Debug)]
pub struct LocalAuthority {
    server: Child,
    folder: tempfile::TempDir,
    http: u16,
    https: u16,
}

impl LocalAuthority {
    /// Makes keys and certificates and starts serving.
    ///
    /// # Panics
    /// If `python3` or `openssl` is missing.
    #[must_use]
    pub fn start() -> Self {
        let folder = tempfile::tempdir().expect("a folder can be made");
        let script = Path::new(env!("CARGO_MANIFEST_DIR")).join("authorities/authority.py");
        let mut server = Command::new("python3")
            .arg(script)
            .arg(folder.path())
            .stdout(Stdio::piped())
            .spawn()
            .expect("python3 is installed");
        let mut lines = BufReader::new(server.stdout.take().expect("its output is piped")).lines();
        let mut port = |sort: &str| {
            let line = lines.next().and_then(Result::ok).unwrap_or_default();
            let port = line.strip_prefix(sort).and_then(|port| port.trim().parse().ok());
            port.unwrap_or_else(|| panic!("the authority said {line:?}; is openssl installed?"))
        };
        let (http, https) = (port("http "), port("https "));
        Self { server, folder, http, https }
    }

    /// Address of one of its doors, such as `stamp`.
    #[must_use]
    pub fn http(&self, door: &str) -> String {
        format!("http://127.0.0.1:{}/{door}", self.http)
    }

    /// The same over TLS; its certificate leads to [`LocalAuthority::root`].
    #[must_use]
    pub fn https(&self, door: &str) -> String {
        format!("https://127.0.0.1:{}/{door}", self.https)
    }

    /// The root's certificate (PEM).
    #[must_use]
    pub fn root(&self) -> PathBuf {
        self.folder.path().join("root.crt")
    }
}

impl Drop for LocalAuthority {
    fn drop(&mut self) {
        let _ = self.server.kill();
        let _ = self.server.wait();
    }
}
