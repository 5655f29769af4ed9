//! The shell script that comes with each packet: a convenience, never evidence.

use crate::Digest;

/// The text of `data/verify.sh` in the packets this version writes.
pub const SCRIPT: &str = include_str!("verify.sh");

/// Hash and version of every script that packets were given, oldest first. How: after a change of `verify.sh` the
/// check below prints the line to add; lines are never taken away, because packets live longer than programs.
const PUBLISHED: [(&str, &str); 3] = [
    ("cabcd2430b17eee53631b32dd8229054c6017786452781cc7bfc2a0e6c10ff92", "0.1.0, first form"),
    ("c83fc8343b768a0ddf8bc91074f0d7b65666378d824de97366faa869cbc7f392", "0.1.0, second form"),
    ("20851bc6cb79c697c5397db425432cacb1f0ff32e766b83ad5e8524ced9ee5ed", "0.1.0"),
];

/// Which version of this program wrote a script with this hash; none if no version did.
pub fn known_script_version(sha256: &Digest) -> Option<&'static str> {
    let text = sha256.to_string();
    PUBLISHED.iter().find(|(hash, _)| *hash == text).map(|(_, version)| *version)
}

/// Hash and version of every published script, oldest first; the last is that of [`SCRIPT`].
pub fn published_scripts() -> &'static [(&'static str, &'static str)] {
    &PUBLISHED
}

#[cfg(test)]
mod tests {
    use super::*;

    #[test]
    fn the_newest_published_script_is_the_one_we_write() {
        let (newest, version) = PUBLISHED[PUBLISHED.len() - 1];
        let ours = Digest::of(SCRIPT.as_bytes()).to_string();
        assert_eq!(newest, ours, "add the line (\"{ours}\", \"{}\")", env!("CARGO_PKG_VERSION"));
        assert!(version.starts_with(env!("CARGO_PKG_VERSION")), "a release names its own script");
    }
}
