//! A time-stamp authority of our own, run by `openssl ts`; and tokens that an honest authority would never give,
//! put together by `openssl cms`.

use std::path::PathBuf;
use std::process::Command;

use tempfile::TempDir;

use crate::folder::{run, succeed};

/// How the authority is set up.
#[derive(Clone, Copy)]
pub struct Setup {
    /// Name of root and signer, so that several can be told apart.
    pub name: &'static str,
    /// For `openssl req -newkey`, the root's.
    pub root_key: &'static [&'static str],
    /// The same, the signer's.
    pub signer_key: &'static [&'static str],
    /// The hash of signatures.
    pub hash: &'static str,
    /// Of the certificate's name inside the token.
    pub certificate_hash: &'static str,
    /// Extensions of the signer's certificate.
    pub purpose: &'static str,
    pub usage: &'static str,
    /// Extensions of the issuer between root and signer; none if the root issues.
    pub issuer: Option<&'static str>,
    /// From and to, `YYYYMMDDhhmmssZ`, of the signer's certificate.
    pub valid: (&'static str, &'static str),
}

pub const P_256: &[&str] = &["ec", "-pkeyopt", "ec_paramgen_curve:P-256"];
pub const P_384: &[&str] = &["ec", "-pkeyopt", "ec_paramgen_curve:P-384"];
pub const RSA_2048: &[&str] = &["rsa:2048"];
pub const RSA_4096: &[&str] = &["rsa:4096"];
pub const RSA_1024: &[&str] = &["rsa:1024"];

/// What RFC 3161 section 2.3 asks for.
pub const USUAL: Setup = Setup {
    name: "Tower Clock",
    root_key: P_256,
    signer_key: P_256,
    hash: "sha256",
    certificate_hash: "sha256",
    purpose: "critical,timeStamping",
    usage: "critical,digitalSignature",
    issuer: None,
    valid: ("20200101000000Z", "20990101000000Z"),
};

pub struct Authority {
    place: TempDir,
    setup: Setup,
}

impl Authority {
    pub fn new(setup: Setup) -> Self {
        let made = Self { place: TempDir::new().unwrap(), setup };
        made.write_settings();
        let root = format!("/O=Invented Authority/CN={} Root", setup.name);
        let mut request =
            made.openssl(&["req", "-utf8", "-x509", "-nodes", "-days", "20000", "-subj", &root]);
        request.args(["-config", "settings.cnf", "-extensions", "root", "-keyout", "root.key"]);
        succeed(request.args(["-out", "root.crt", "-newkey"]).args(setup.root_key));
        let issuer = if setup.issuer.is_some() { "issuer" } else { "root" };
        if setup.issuer.is_some() {
            made.certify("issuer", P_256, "root", ("20200101000000Z", "20990101000000Z"));
        }
        made.certify("signer", setup.signer_key, issuer, setup.valid);
        made
    }

    fn certify(&self, who: &str, key: &[&str], by: &str, valid: (&str, &str)) {
        let subject = format!("/O=Invented Authority/CN={} {who}", self.setup.name);
        let mut request =
            self.openssl(&["req", "-utf8", "-new", "-nodes", "-config", "settings.cnf", "-subj", &subject]);
        request.args(["-keyout", &format!("{who}.key"), "-out", &format!("{who}.csr"), "-newkey"]);
        succeed(request.args(key));
        let mut sign =
            self.openssl(&["ca", "-batch", "-notext", "-config", "settings.cnf", "-md", self.setup.hash]);
        sign.args([
            "-startdate",
            valid.0,
            "-enddate",
            valid.1,
            "-extensions",
            who,
            "-in",
            &format!("{who}.csr"),
        ]);
        sign.args([
            "-cert",
            &format!("{by}.crt"),
            "-keyfile",
            &format!("{by}.key"),
            "-out",
            &format!("{who}.crt"),
        ]);
        succeed(&mut sign);
    }

    fn write_settings(&self) {
        let Setup { hash, certificate_hash, purpose, usage, issuer, .. } = self.setup;
        let issuer = issuer.unwrap_or("basicConstraints=critical,CA:TRUE\nkeyUsage=critical,keyCertSign");
        let settings = format!(
            "[ca]\ndefault_ca=local\n[local]\ndatabase=index.txt\nserial=serial.txt\nnew_certs_dir=.\npolicy=any\n\
             unique_subject=no\n[any]\norganizationName=optional\ncommonName=optional\n\
             [req]\ndistinguished_name=name\nprompt=no\n[name]\n\
             [root]\nbasicConstraints=critical,CA:TRUE\nkeyUsage=critical,keyCertSign,cRLSign\n\
             subjectKeyIdentifier=hash\n\
             [issuer]\n{issuer}\nsubjectKeyIdentifier=hash\n\
             [signer]\nbasicConstraints=critical,CA:FALSE\nkeyUsage={usage}\nextendedKeyUsage={purpose}\n\
             subjectKeyIdentifier=hash\nauthorityKeyIdentifier=keyid\n\
             [t]\nserial=token-serial.txt\nsigner_cert=signer.crt\nsigner_key=signer.key\nsigner_digest={hash}\n\
             default_policy=1.2.3.4.1\ndigests=sha256,sha384,sha512\ness_cert_id_alg={certificate_hash}\n\
             accuracy=secs:1,millisecs:500,microsecs:1\nclock_precision_digits=3\n"
        );
        let write = |name: &str, text: &str| std::fs::write(self.file(name), text).unwrap();
        write("settings.cnf", &settings.replace("keyUsage=\n", "").replace("extendedKeyUsage=\n", ""));
        write("index.txt", "");
        write("serial.txt", "1000\n");
        write("token-serial.txt", "01\n");
    }

    pub fn file(&self, name: &str) -> PathBuf {
        self.place.path().join(name)
    }

    pub fn read(&self, name: &str) -> Vec<u8> {
        std::fs::read(self.file(name)).unwrap()
    }

    fn openssl(&self, words: &[&str]) -> Command {
        let mut command = Command::new("openssl");
        command.args(words).current_dir(self.place.path());
        command
    }

    /// The reply to a query in DER.
    pub fn answer(&self, query: &[u8]) -> Vec<u8> {
        std::fs::write(self.file("query.tsq"), query).unwrap();
        let mut reply = self.openssl(&["ts", "-reply", "-config", "settings.cnf", "-section", "t"]);
        reply.args(["-queryfile", "query.tsq", "-out", "reply.tsr"]);
        if self.setup.issuer.is_some() {
            reply.args(["-chain", "issuer.crt"]);
        }
        succeed(&mut reply);
        self.read("reply.tsr")
    }

    /// Whether `openssl ts -verify` accepts a reply over `text`, judged at `at` (seconds since 1970) if given.
    pub fn openssl_accepts(&self, reply: &[u8], text: &[u8], root: &[u8], at: Option<u64>) -> bool {
        std::fs::write(self.file("check.tsr"), reply).unwrap();
        std::fs::write(self.file("check.txt"), text).unwrap();
        std::fs::write(self.file("check.crt"), root).unwrap();
        let mut verify = self.openssl(&[
            "ts",
            "-verify",
            "-data",
            "check.txt",
            "-in",
            "check.tsr",
            "-CAfile",
            "check.crt",
        ]);
        if let Some(at) = at {
            verify.args(["-attime", &at.to_string()]);
        }
        run(&mut verify).status.success()
    }

    /// The same statement signed by `openssl cms` with other arguments, as a reply that was granted.
    pub fn sign_again(&self, reply: &[u8], arguments: &[&str]) -> Vec<u8> {
        std::fs::write(self.file("first.tsr"), reply).unwrap();
        succeed(&mut self.openssl(&["ts", "-reply", "-in", "first.tsr", "-token_out", "-out", "first.tst"]));
        let mut take =
            self.openssl(&["cms", "-verify", "-noverify", "-nosigs", "-inform", "DER", "-in", "first.tst"]);
        succeed(take.args(["-binary", "-out", "statement.der"]));
        let mut sign =
            self.openssl(&["cms", "-sign", "-binary", "-nodetach", "-nosmimecap", "-outform", "DER"]);
        sign.args([
            "-econtent_type",
            "1.2.840.113549.1.9.16.1.4",
            "-in",
            "statement.der",
            "-out",
            "again.tst",
        ]);
        sign.args(["-signer", "signer.crt", "-inkey", "signer.key", "-md", self.setup.hash]);
        succeed(sign.args(arguments));
        granted(&self.read("again.tst"))
    }
}

/// A token as a reply with status 0.
pub fn granted(token: &[u8]) -> Vec<u8> {
    let content = [&[0x30, 3, 2, 1, 0], token].concat();
    let length = content.len();
    [&[0x30, 0x82, (length >> 8) as u8, length as u8][..], &content].concat()
}
