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
    let text = part.map_or_else(|| name.to_string(), |part| part.value().into_owned());
    text.chars().filter(|c| !c.is_control()).take(200).collect()
}

const BEGIN: &str = "-----BEGIN CERTIFICATE-----";
const END: &str = "-----END CERTIFICATE-----";
