//! Roots: the certificates in which the user has put trust, named from outside.

use base64::Engine as _;
use base64::prelude::BASE64_STANDARD as BASE64;
use der::Decode as _;
use x509_cert::Certificate;
use x509_cert::name::Name;

use super::TimestampError;
use crate::Digest;

/// A certificate the user trusts as the root of an authority.
#[derive(Clone, Debug, PartialEq, Eq)]
pub struct AuthorityRoot {
    pub(super) der: Vec<u8>,
}

impl AuthorityRoot {
    /// Reads every certificate of a file: PEM (RFC 7468, several are allowed) or DER.
    ///
    /// # Errors
    /// [`TimestampError::BadRoot`] if there is none, or one that can't be read.
    pub fn read(file: &[u8]) -> Result<Vec<Self>, TimestampError> {
        let bad = |what: &str| TimestampError::BadRoot(what.to_owned());
        let text = std::str::from_utf8(file).ok().filter(|text| text.contains(BEGIN));
        let Some(text) = text else {
            return Ok(vec![Self::from_der(file.to_vec())?]);
        };
        let parts = text.split(BEGIN).skip(1).map(|part| {
            let (body, _) = part.split_once(END).ok_or_else(|| bad("a certificate has no end"))?;
            let body: String = body.split_ascii_whitespace().collect();
            Self::from_der(BASE64.decode(body).map_err(|_| bad("it is not base64"))?)
        });
        parts.collect()
    }

    /// Takes up one certificate in DER.
    ///
    /// # Errors
    /// [`TimestampError::BadRoot`].
    pub fn from_der(der: Vec<u8>) -> Result<Self, TimestampError> {
        let bad = |cause: der::Error| TimestampError::BadRoot(cause.to_string());
        Certificate::from_der(&der).map_err(bad)?;
        Ok(Self { der })
    }

    /// SHA-256 of the certificate in DER, as `openssl x509 -fingerprint -sha256` prints it without the colons.
    pub fn fingerprint(&self) -> Digest {
        Digest::of(&self.der)
    }

    /// What the certificate calls itself.
    pub fn name(&self) -> String {
        let certificate = Certificate::from_der(&self.der).ok();
        certificate.map(|root| shown(root.tbs_certificate().subject())).unwrap_or_default()
    }
}

/// A name for people: the common name if there is one, else the organisation, else all of it (RFC 4514).
pub fn shown(name: &Name) -> String {
    let common = name.common_name().ok().flatten();
    let part = common.or_else(|| name.organization().ok().flatten());
    cleaned(&part.map_or_else(|| name.to_string(), |part| part.value().into_owned()), LONGEST_NAME)
}

/// A stranger's text, safe between quotation marks in a line of ours: letters, digits and a few signs stay. Control, format
/// and bidirectional characters, line ends and every quotation mark but the apostrophe go, so that nobody can end the
/// quotation, turn its direction or start a line of their own; blanks become one. At most `longest` characters.
pub fn cleaned(text: &str, longest: usize) -> String {
    let kept = |c: char| {
        if c.is_alphanumeric() || SIGNS.contains(c) { Some(c) } else { c.is_whitespace().then_some(' ') }
    };
    let text: String = text.chars().filter_map(kept).collect();
    let words: Vec<&str> = text.split(' ').filter(|word| !word.is_empty()).collect();
    let line = words.join(" ");
    if line.is_empty() {
        return "?".to_owned();
    }
    if line.chars().count() <= longest {
        return line;
    }
    line.chars().take(longest.saturating_sub(1)).chain(['\u{2026}']).collect()
}

/// Longer names of authorities than this are cut.
const LONGEST_NAME: usize = 80;

/// What may stand in a name beside letters, digits and blanks.
const SIGNS: &str = "'-_.,:;/+&@#*=()";

const BEGIN: &str = "-----BEGIN CERTIFICATE-----";
const END: &str = "-----END CERTIFICATE-----";

#[cfg(test)]
mod tests {
    use super::*;

    /// Characters after Unicode 16.0: general categories Cc, Cf, Zl, Zp, and quotation marks.
    #[test]
    fn nothing_of_a_strangers_name_leaves_its_quotation() {
        let bad = "Clock\u{0}\n\r\u{202e}emit\u{2066}\u{200f}\u{200b}\u{feff}\u{2028}\u{2029}\u{ad}\u{e0041}\" \u{201d}\u{201e}\u{ab}\u{300c}(x)";
        assert_eq!(cleaned(bad, LONGEST_NAME), "Clock emit (x)");
        assert_eq!(cleaned("Reloj de la Torre, S.A.", 80), "Reloj de la Torre, S.A.");
        assert_eq!(cleaned("\u{65e5}\u{672c} O'Clock", 80), "\u{65e5}\u{672c} O'Clock");
        assert_eq!(cleaned("\u{202e}", 80), "?");
        assert_eq!(cleaned(&"x".repeat(500), LONGEST_NAME).chars().count(), LONGEST_NAME);
    }
}
