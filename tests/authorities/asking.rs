//! The carrier alone: what OpenSSL asks, what OpenSSL verifies, and a word for each failure.

use std::process::Command;
use std::time::Duration;

use authority::{Address, AskError, Limits, ask};
use testimeter_checks::local_authority::LocalAuthority;

/// A question by OpenSSL about a small text, and the folder that holds both.
fn question() -> (tempfile::TempDir, Vec<u8>) {
    let folder = tempfile::tempdir().unwrap();
    std::fs::write(folder.path().join("text.txt"), "shop/job/device\n1\nAAAA\n").unwrap();
    let words = ["ts", "-query", "-data", "text.txt", "-sha256", "-cert", "-out", "q.tsq"];
    assert!(Command::new("openssl").args(words).current_dir(&folder).output().unwrap().status.success());
    let bytes = std::fs::read(folder.path().join("q.tsq")).unwrap();
    (folder, bytes)
}

fn quick() -> Limits {
    Limits { time: Duration::from_secs(2), ..Limits::default() }
}

#[test]
fn openssl_verifies_what_was_carried_over_both_ways() {
    let authority = LocalAuthority::start();
    let (folder, question) = question();
    let root = std::fs::read(authority.root()).unwrap();
    let limits = Limits { server_roots: vec![root], ..Limits::default() };
    for address in [authority.http("stamp"), authority.https("stamp")] {
        let answer = ask(&address.parse::<Address>().unwrap(), &question, &limits).unwrap();
        std::fs::write(folder.path().join("r.tsr"), answer).unwrap();
        let mut verify = Command::new("openssl");
        verify
            .args(["ts", "-verify", "-queryfile", "q.tsq", "-in", "r.tsr", "-CAfile"])
            .arg(authority.root());
        let said = verify.current_dir(&folder).output().unwrap();
        assert!(said.status.success(), "{}", String::from_utf8_lossy(&said.stderr));
    }
}

#[test]
fn every_failure_has_its_word() {
    let authority = LocalAuthority::start();
    let (_folder, question) = question();
    let fails = |address: String, limits: &Limits| {
        ask(&address.parse::<Address>().unwrap(), &question, limits).unwrap_err()
    };
    assert_eq!(fails(authority.http("slow"), &quick()), AskError::TooSlow);
    assert_eq!(fails(authority.http("page"), &quick()), AskError::NotAnAnswer("text/html".to_owned()));
    assert_eq!(fails(authority.http("huge"), &quick()), AskError::TooLong(1 << 20));
    assert_eq!(fails(authority.http("elsewhere"), &quick()), AskError::Status(503));
    assert!(matches!(
        fails(authority.http("moved"), &quick()),
        AskError::Status(302) | AskError::NotAnAnswer(_)
    ));
    let unknown_root = fails(authority.https("stamp"), &quick());
    assert!(matches!(unknown_root, AskError::Unsafe(_)), "{unknown_root:?}");
    let nobody = fails("http://127.0.0.1:1/stamp".to_owned(), &quick());
    assert!(matches!(nobody, AskError::Unreachable(_)), "{nobody:?}");
    let no_such_name = fails("http://nowhere.invalid/stamp".to_owned(), &quick());
    assert!(matches!(no_such_name, AskError::Unreachable(_)), "{no_such_name:?}");
}
