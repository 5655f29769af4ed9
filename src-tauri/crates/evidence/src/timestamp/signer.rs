//! The signer's certificate: is it the one the token names, is it for time-stamping alone, does its key fit?

use der::Decode as _;
use der::asn1::ObjectIdentifier;
use rustls_pki_types::SignatureVerificationAlgorithm as _;
use x509_cert::Certificate;
use x509_cert::ext::pkix::{ExtendedKeyUsage, KeyUsage, KeyUsages, SubjectKeyIdentifier};
use x509_cert::time::Time;

use super::TimestampError;
use super::reading::Parts;
use super::signature::{self, Hash};
use super::time::Moment;
use super::token::{STATEMENT, SignerInfo, Token, Who};

/// The signer's certificate, read.
pub struct Signer<'a> {
    /// In DER.
    pub der: &'a [u8],
    /// Read.
    pub certificate: Certificate,
}

impl<'a> Signer<'a> {
    /// Finds the certificate that the token says signed it.
    pub fn of(token: &Token<'a>) -> Result<Self, TimestampError> {
        let named = token.certificates.iter().find_map(|der| {
            let certificate = Certificate::from_der(der).ok()?;
            is_named(&certificate, der, &token.signer.who).then_some(Self { der, certificate })
        });
        named.ok_or(TimestampError::NoCertificate)
    }

    /// Exactly one purpose, time-stamping, marked critical (RFC 3161 section 2.3), and a key for signing.
    pub fn check_purpose(&self) -> Result<(), TimestampError> {
        let wrong = TimestampError::WrongPurpose;
        let tbs = self.certificate.tbs_certificate();
        let purposes = tbs.get_extension::<ExtendedKeyUsage>();
        match purposes.map_err(|_| wrong("its purposes can not be read"))? {
            None => return Err(wrong("it states no purpose")),
            Some((false, _)) => return Err(wrong("its purpose is not marked critical")),
            Some((true, ExtendedKeyUsage(purposes))) if purposes != [TIME_STAMPING] => {
                return Err(wrong("it is for something else than time-stamping, or for more"));
            }
            Some(_) => {}
        }
        let usage = tbs.get_extension::<KeyUsage>().map_err(|_| wrong("its key usage can not be read"))?;
        let signing = KeyUsages::DigitalSignature | KeyUsages::NonRepudiation;
        let fits = usage.is_none_or(|(_, KeyUsage(usage))| !usage.is_empty() && (usage - signing).is_empty());
        if fits { Ok(()) } else { Err(wrong("its key is not for signatures alone")) }
    }

    /// Validity is judged at the token's own time, not now.
    pub fn check_validity(&self, at: Moment) -> Result<(), TimestampError> {
        let validity = self.certificate.tbs_certificate().validity();
        let (from, to) = (moment(&validity.not_before), moment(&validity.not_after));
        // An end in whole seconds includes that second.
        if from.unix_ms <= at.unix_ms && at.unix_ms <= to.unix_ms.saturating_add(999) {
            return Ok(());
        }
        Err(TimestampError::SignerExpired { from: from.rfc3339(), to: to.rfc3339(), at: at.rfc3339() })
    }

    /// The signed attributes name this certificate by a SHA-2 hash (RFC 5816 section 2.2.1); without that a
    /// signature could be passed off as made with another certificate of the same key.
    pub fn check_certificate_id(&self, info: &SignerInfo<'_>) -> Result<(), TimestampError> {
        let value = info.attribute(SIGNING_CERTIFICATE_V2)?.ok_or(TimestampError::NoCertificateId)?;
        let mut ids = Parts::of_sequence(value)?.sequence()?;
        let mut first = ids.sequence()?;
        let hash = match first.next_tag() {
            Some(der::Tag::Sequence) => {
                let (name, _) = first.algorithm()?;
                Hash::named(name).ok_or_else(|| TimestampError::Unsupported(format!("the hash {name}")))?
            }
            _ => Hash::Sha256,
        };
        let same = first.value(der::Tag::OctetString)? == hash.of(self.der);
        if same { Ok(()) } else { Err(TimestampError::OtherCertificateId) }
    }

    /// The signature over the attributes, and the attributes over the statement.
    pub fn check_signature(&self, token: &Token<'_>) -> Result<(), TimestampError> {
        let bad = TimestampError::BadSignature;
        let info = &token.signer;
        let hash = Hash::named(info.digest)
            .ok_or_else(|| TimestampError::Unsupported(format!("the hash {}", info.digest)))?;
        let kind = info.attribute(CONTENT_TYPE)?.map(ObjectIdentifier::from_der);
        if kind != Some(Ok(STATEMENT)) {
            return Err(bad("it does not say what it is over"));
        }
        let digest =
            info.attribute(MESSAGE_DIGEST)?.map(|value| Parts::of(value)?.value(der::Tag::OctetString));
        if digest.transpose()? != Some(hash.of(token.content).as_slice()) {
            return Err(bad("it is over another statement"));
        }
        let key = self.certificate.tbs_certificate().subject_public_key_info();
        let algorithm = signature::of_token(&content(&key.algorithm)?, &named(info), hash)
            .ok_or_else(|| TimestampError::Unsupported(format!("the signature {}", info.algorithm.0)))?;
        let verified = algorithm.verify_signature(
            key.subject_public_key.raw_bytes(),
            &info.signed_bytes(),
            info.signature,
        );
        verified.map_err(|_| bad("key and signature do not belong together"))
    }
}

/// The content of an algorithm identifier's sequence, as [`signature::ACCEPTED`] has it.
fn content(algorithm: &impl der::Encode) -> Result<Vec<u8>, TimestampError> {
    let bad = |_| TimestampError::Malformed("an algorithm can not be read");
    let der = algorithm.to_der().map_err(bad)?;
    let whole = der::asn1::AnyRef::from_der(&der).map_err(bad)?;
    Ok(whole.value().to_vec())
}

fn named(info: &SignerInfo<'_>) -> Vec<u8> {
    let (name, parameters) = info.algorithm;
    let name = name.as_bytes();
    [&[6, name.len() as u8], name, parameters.unwrap_or_default()].concat()
}

fn is_named(certificate: &Certificate, der: &[u8], who: &Who<'_>) -> bool {
    let tbs = certificate.tbs_certificate();
    match who {
        Who::Issued(issuer, serial) => {
            let _ = der;
            let same_issuer = der::Encode::to_der(tbs.issuer()).is_ok_and(|own| own == *issuer);
            same_issuer && trimmed(tbs.serial_number().as_bytes()) == trimmed(serial)
        }
        Who::Key(wanted) => {
            let own = tbs.get_extension::<SubjectKeyIdentifier>();
            own.is_ok_and(|own| own.is_some_and(|(_, own)| own.0.as_bytes() == *wanted))
        }
    }
}

fn trimmed(serial: &[u8]) -> &[u8] {
    match serial {
        [0, rest @ ..] if !rest.is_empty() => rest,
        other => other,
    }
}

/// A certificate's time.
pub fn moment(time: &Time) -> Moment {
    Moment { unix_ms: i64::try_from(time.to_unix_duration().as_millis()).unwrap_or(i64::MAX) }
}

/// id-kp-timeStamping (RFC 5280 section 4.2.1.12).
const TIME_STAMPING: ObjectIdentifier = ObjectIdentifier::new_unwrap("1.3.6.1.5.5.7.3.8");
/// id-contentType and id-messageDigest (RFC 5652 section 11.1 and 11.2).
const CONTENT_TYPE: ObjectIdentifier = ObjectIdentifier::new_unwrap("1.2.840.113549.1.9.3");
const MESSAGE_DIGEST: ObjectIdentifier = ObjectIdentifier::new_unwrap("1.2.840.113549.1.9.4");
/// id-aa-signingCertificateV2 (RFC 5035 section 3).
const SIGNING_CERTIFICATE_V2: ObjectIdentifier = ObjectIdentifier::new_unwrap("1.2.840.113549.1.9.16.2.47");
