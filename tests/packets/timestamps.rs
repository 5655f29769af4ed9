//! Time-stamps judged by us, by `openssl ts -verify` and by PyPI `rfc3161-client`, from a local authority.

use std::process::Command;

use evidence::timestamp::{self, AuthorityRoot, TimestampError};
use serde_json::json;
use testimeter_checks::venv;

use crate::authority::{Authority, P_384, RSA_1024, RSA_2048, RSA_4096, Setup, USUAL};
use crate::folder::{run, text};

const TEXT: &[u8] = b"corner-garage/job-0042/bench-phone\n7\nTszzRgjTG6xce+z2AG31kAXYKBgQVtCSCE40HmuwBb0=\n";
const NONCE: u64 = 0x8123_4567_89ab_cdef;

/// `none` or our code; then what openssl and rfc3161-client say.
fn judge(reply: &[u8], authority: &Authority, roots: &[u8], text: &[u8]) -> (String, bool, bool) {
    let ours = timestamp::token_of_reply(reply)
        .and_then(|token| timestamp::check(&token, text, Some(NONCE), &AuthorityRoot::read(roots)?));
    let ours = ours.map_or_else(|error| error.code().to_owned(), |_| "none".to_owned());
    let openssl = authority.openssl_accepts(reply, text, roots, None);
    (ours, openssl, client_accepts(authority, reply, text, roots))
}

fn client_accepts(authority: &Authority, reply: &[u8], text: &[u8], roots: &[u8]) -> bool {
    let code = "import sys\n\
        from cryptography.x509 import load_pem_x509_certificates as load\n\
        from rfc3161_client import VerifierBuilder, decode_timestamp_response as decode\n\
        reply, text, roots = (open(path, 'rb').read() for path in sys.argv[1:4])\n\
        builder = VerifierBuilder().nonce(int(sys.argv[4]))\n\
        for root in load(roots): builder = builder.add_root_certificate(root)\n\
        try: sys.exit(0 if builder.build().verify_message(decode(reply), text) else 1)\n\
        except Exception as error: print(repr(error)); sys.exit(1)\n";
    let paths = [("client.tsr", reply), ("client.txt", text), ("client.crt", roots)].map(|(name, bytes)| {
        std::fs::write(authority.file(name), bytes).unwrap();
        authority.file(name)
    });
    let out = run(Command::new(venv::python()).args(["-c", code]).args(paths).arg(NONCE.to_string()));
    // 0 and 1 are answers; anything else means the program did not run.
    assert!(matches!(out.status.code(), Some(0 | 1)), "{}", String::from_utf8_lossy(&out.stderr));
    out.status.success()
}

fn stamped(setup: Setup) -> (Authority, Vec<u8>) {
    let authority = Authority::new(setup);
    let reply = authority.answer(&timestamp::query(TEXT, NONCE).unwrap());
    (authority, reply)
}

/// Our code or `none`, whether openssl accepts, whether rfc3161-client does.
type Judged = (&'static str, bool, bool);
/// Name, reply, who judges, roots, text.
type BadToken<'a> = (&'a str, &'a [u8], &'a Authority, &'a [u8], &'a [u8], Judged);
/// Name, the certificate's set-up, arguments for `openssl cms -sign`.
type OtherSigner = (&'static str, Setup, &'static [&'static str], Judged);

#[test]
fn openssl_reads_our_query() {
    let place = tempfile::TempDir::new().unwrap();
    let file = place.path().join("q.tsq");
    std::fs::write(&file, timestamp::query(TEXT, NONCE).unwrap()).unwrap();
    let out = text(&run(Command::new("openssl").args(["ts", "-query", "-text", "-in"]).arg(file)).stdout);
    for wanted in
        ["Version: 1", "Hash Algorithm: sha256", "Nonce: 0x8123456789ABCDEF", "Certificate required: yes"]
    {
        assert!(out.contains(wanted), "{wanted} in {out}");
    }
}

#[test]
fn good_tokens_of_every_kind_of_key_are_accepted_by_all_three() {
    let setups = [
        USUAL,
        Setup { root_key: P_384, signer_key: P_384, hash: "sha384", certificate_hash: "sha384", ..USUAL },
        Setup { root_key: RSA_4096, signer_key: RSA_2048, hash: "sha256", ..USUAL },
        Setup {
            root_key: RSA_2048,
            signer_key: RSA_4096,
            hash: "sha512",
            certificate_hash: "sha512",
            ..USUAL
        },
        Setup { usage: "critical,digitalSignature,nonRepudiation", ..USUAL },
    ];
    for (number, setup) in setups.into_iter().enumerate() {
        let (authority, reply) = stamped(setup);
        let judged = judge(&reply, &authority, &authority.read("root.crt"), TEXT);
        assert_eq!(judged, ("none".into(), true, true), "set-up {number}");
    }
}

#[test]
fn what_a_token_states_is_what_openssl_prints_of_it() {
    let (authority, reply) = stamped(USUAL);
    let roots = AuthorityRoot::read(&authority.read("root.crt")).unwrap();
    let token = timestamp::token_of_reply(&reply).unwrap();
    let stamp = timestamp::check(&token, TEXT, Some(NONCE), &roots).unwrap();
    assert_eq!(stamp.authority, "Tower Clock signer");
    assert_eq!((stamp.policy.as_str(), stamp.accuracy_ms), ("1.2.3.4.1", Some(1501)));
    assert_eq!(roots[0].name(), "Tower Clock Root");
    let print = run(Command::new("openssl")
        .args(["x509", "-noout", "-fingerprint", "-sha256", "-in"])
        .arg(authority.file("root.crt")));
    let print = text(&print.stdout).trim().rsplit('=').next().unwrap().replace(':', "").to_lowercase();
    assert_eq!(stamp.root.unwrap().to_string(), print);
    let shown =
        run(Command::new("openssl").args(["ts", "-reply", "-text", "-in"]).arg(authority.file("reply.tsr")));
    let shown = text(&shown.stdout);
    let line = shown.lines().find_map(|line| line.strip_prefix("Time stamp: ")).unwrap();
    // `Nov 25 11:02:03.123 2026 GMT`: the seconds by date, the fraction by hand.
    let seconds = run(Command::new("date").args(["-u", "+%s.%3N", "-d", line]));
    let seconds: f64 = text(&seconds.stdout).trim().parse().unwrap();
    assert!((seconds * 1000.0 - stamp.unix_ms as f64).abs() < 1000.0, "{line} and {}", stamp.time);
    assert!(shown.contains(&format!("Serial number: 0x{}", stamp.serial.to_uppercase())), "{shown}");
    let alone = timestamp::check(&token, TEXT, None, &[]).unwrap();
    assert_eq!((alone.time, alone.root), (stamp.time, None));
}

#[test]
fn bad_tokens_have_each_a_word_of_their_own() {
    let (authority, reply) = stamped(USUAL);
    let root = authority.read("root.crt");
    let (stranger, _) = stamped(Setup { name: "Sun Dial", ..USUAL });
    let same_name = Authority::new(USUAL);
    let other_nonce = authority.answer(&timestamp::query(TEXT, 5).unwrap());
    let (expired, late) = stamped(Setup { valid: ("20200101000000Z", "20210101000000Z"), ..USUAL });
    let (old_way, sha1) = stamped(Setup { certificate_hash: "sha1", ..USUAL });
    let refused = authority.answer(&query_with_sha1(&authority));
    let cases: [BadToken<'_>; 8] = [
        ("other text", &reply, &authority, &root, b"other", ("wrong_imprint", false, false)),
        // `openssl ts -verify -data` is not told the nonce.
        ("other nonce", &other_nonce, &authority, &root, TEXT, ("wrong_nonce", true, false)),
        (
            "unknown root",
            &reply,
            &authority,
            &stranger.read("root.crt"),
            TEXT,
            ("unknown_root", false, false),
        ),
        (
            "same name, other key",
            &reply,
            &authority,
            &same_name.read("root.crt"),
            TEXT,
            ("bad_signature", false, false),
        ),
        ("expired", &late, &expired, &expired.read("root.crt"), TEXT, ("signer_expired", false, false)),
        // Both others accept the certificate named by SHA-1 (RFC 3161); RFC 5816 exists because that is weak.
        (
            "named by SHA-1",
            &sha1,
            &old_way,
            &old_way.read("root.crt"),
            TEXT,
            ("no_certificate_id", true, true),
        ),
        ("refused", &refused, &authority, &root, TEXT, ("refused", false, false)),
        ("no reply", b"<html>busy</html>", &authority, &root, TEXT, ("malformed", false, false)),
    ];
    for (name, reply, authority, roots, text, (ours, openssl, client)) in cases {
        assert_eq!(judge(reply, authority, roots, text), (ours.to_owned(), openssl, client), "{name}");
    }
}

/// `openssl ts` writes the two certificates unsorted, which DER forbids and rfc3161-client refuses; we don't sort
/// either, because nothing of what is signed depends on it.
#[test]
fn an_authority_below_an_issuer_is_accepted() {
    let (authority, reply) = stamped(Setup { issuer: Some(GOOD_ISSUER), ..USUAL });
    let (ours, openssl, _) = judge(&reply, &authority, &authority.read("root.crt"), TEXT);
    assert_eq!((ours.as_str(), openssl), ("none", true));
}

const GOOD_ISSUER: &str = "basicConstraints=critical,CA:TRUE,pathlen:0\nkeyUsage=critical,keyCertSign";

#[test]
fn openssl_cms_accepts_the_pss_signature_too() {
    let (_, reply) = stamped(USUAL);
    let authority = Authority::new(Setup { signer_key: RSA_2048, ..USUAL });
    authority.sign_again(&reply, PSS);
    let mut verify = Command::new("openssl");
    verify.args(["cms", "-verify", "-binary", "-inform", "DER", "-in", "again.tst", "-CAfile", "root.crt"]);
    verify.args(["-purpose", "timestampsign", "-out", "said.der"]);
    assert!(run(verify.current_dir(authority.file(""))).status.success());
}

const PSS: &[&str] = &["-cades", "-keyopt", "rsa_padding_mode:pss", "-keyopt", "rsa_pss_saltlen:-1"];

/// A query whose hash algorithm the authority doesn't take.
fn query_with_sha1(authority: &Authority) -> Vec<u8> {
    std::fs::write(authority.file("data.txt"), TEXT).unwrap();
    let mut query = Command::new("openssl");
    query.args(["ts", "-query", "-data", "data.txt", "-sha1", "-cert", "-out", "sha1.tsq"]);
    assert!(run(query.current_dir(authority.file(""))).status.success());
    authority.read("sha1.tsq")
}

/// An honest authority's program refuses to make these, so `openssl cms` signs the statement again.
#[test]
fn tokens_by_certificates_for_something_else_are_refused() {
    let sign = |setup: Setup, arguments: &[&str]| {
        let (_, reply) = stamped(USUAL);
        let other = Authority::new(setup);
        let again = other.sign_again(&reply, arguments);
        let root = other.read("root.crt");
        judge(&again, &other, &root, TEXT)
    };
    let issuer_for = |usage: &'static str| Setup { issuer: Some(usage), ..USUAL };
    let cades: &[&str] = &["-cades"];
    let chain: &[&str] = &["-cades", "-certfile", "issuer.crt"];
    let cases: [OtherSigner; 14] = [
        ("as it should be", USUAL, cades, ("none", true, true)),
        ("issuer between", issuer_for(GOOD_ISSUER), chain, ("none", true, true)),
        // Neither other reads PSS here, since PKCS#7 (RFC 2315) had none; `openssl cms` does, see below.
        ("PSS", Setup { signer_key: RSA_2048, ..USUAL }, PSS, ("none", false, false)),
        // RFC 5652 section 5.3 allows it; both others look for issuer and serial number only.
        ("named by key", USUAL, &["-cades", "-keyid"], ("none", false, false)),
        ("no certificate named", USUAL, &[], ("no_certificate_id", false, true)),
        ("certificate left out", USUAL, &["-cades", "-nocerts"], ("no_certificate", false, false)),
        (
            "for mail",
            Setup { purpose: "critical,emailProtection", ..USUAL },
            cades,
            ("wrong_purpose", false, false),
        ),
        (
            "for mail too",
            Setup { purpose: "critical,timeStamping,emailProtection", ..USUAL },
            cades,
            ("wrong_purpose", false, false),
        ),
        ("not critical", Setup { purpose: "timeStamping", ..USUAL }, cades, ("wrong_purpose", false, false)),
        ("no purpose", Setup { purpose: "", ..USUAL }, cades, ("wrong_purpose", false, false)),
        (
            "key for agreement",
            Setup { usage: "critical,keyAgreement", ..USUAL },
            cades,
            ("wrong_purpose", false, false),
        ),
        // Both others still take 1,024 bits; NIST SP 800-131A has disallowed them since 2014.
        ("short key", Setup { signer_key: RSA_1024, ..USUAL }, cades, ("bad_signature", true, true)),
        (
            "issuer that may not",
            issuer_for("basicConstraints=critical,CA:FALSE"),
            chain,
            ("wrong_purpose", false, false),
        ),
        (
            "issuer's key for lists",
            issuer_for("basicConstraints=critical,CA:TRUE\nkeyUsage=critical,cRLSign"),
            chain,
            ("wrong_purpose", false, false),
        ),
    ];
    let mut wrong = Vec::new();
    for (name, setup, arguments, (ours, openssl, client)) in cases {
        let judged = sign(setup, arguments);
        if judged != (ours.to_owned(), openssl, client) {
            wrong.push(json!([name, judged]));
        }
    }
    assert!(wrong.is_empty(), "{wrong:#?}");
}

/// Each byte of a token, one bit changed: never accepted with another statement than before.
#[test]
fn no_changed_bit_makes_a_token_state_something_else() {
    let (authority, reply) = stamped(USUAL);
    let roots = AuthorityRoot::read(&authority.read("root.crt")).unwrap();
    let token = timestamp::token_of_reply(&reply).unwrap();
    let stated = timestamp::check(&token, TEXT, Some(NONCE), &roots).unwrap();
    let (mut refused, mut same) = (0, 0);
    for at in 0..token.len() {
        let mut changed = token.clone();
        changed[at] ^= 1 << (at % 8);
        match timestamp::check(&changed, TEXT, Some(NONCE), &roots) {
            Ok(stamp) => {
                assert_eq!(stamp, stated, "byte {at}");
                same += 1;
            }
            Err(_) => refused += 1,
        }
    }
    // Bytes that nobody signs: version numbers, the list of digest algorithms.
    assert!(same < 40, "{same} of {} changes were accepted", refused + same);
}

/// After the signer's certificate has expired its tokens stay good: validity is judged at the token's own time.
#[test]
fn a_token_stays_good_when_its_signer_has_expired_since() {
    let (authority, reply) = stamped(Setup { valid: ("20200101000000Z", "20280101000000Z"), ..USUAL });
    let root = authority.read("root.crt");
    let after = 1_900_000_000; // 2030
    assert!(
        !authority.openssl_accepts(&reply, TEXT, &root, Some(after)),
        "openssl judges at the time it is given"
    );
    let token = timestamp::token_of_reply(&reply).unwrap();
    let stamp = timestamp::check(&token, TEXT, None, &AuthorityRoot::read(&root).unwrap()).unwrap();
    let then = u64::try_from(stamp.unix_ms / 1000).unwrap();
    assert!(authority.openssl_accepts(&reply, TEXT, &root, Some(then)));
}

#[test]
fn a_body_gives_back_what_it_was_made_from() {
    let (_, reply) = stamped(USUAL);
    let token = timestamp::token_of_reply(&reply).unwrap();
    let checkpoint = evidence::Checkpoint::parse(std::str::from_utf8(TEXT).unwrap()).unwrap();
    let body = timestamp::TimestampBody::new("https://clock.example/tsa", &checkpoint, NONCE, &token);
    assert_eq!((body.token_bytes().unwrap(), body.nonce_number().unwrap()), (token, NONCE));
    let wrong = timestamp::TimestampBody { nonce: "8123456789ABCDEF".into(), ..body };
    assert!(matches!(wrong.nonce_number(), Err(TimestampError::Malformed(_))));
}
