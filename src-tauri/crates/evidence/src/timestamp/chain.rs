//! From the signer's certificate to a root that was named (RFC 5280 section 6), at the token's own time.
//!
//! The path is found and checked by webpki: names, signatures, validity, basic constraints, path length, name
//! constraints, purposes, critical extensions. Key usage of the issuers and the root's own validity, which it
//! leaves out, are checked here. Revocation is not looked up: no list is at hand where there is no network.

use der::Decode as _;
use rustls_pki_types::{CertificateDer, SignatureVerificationAlgorithm, TrustAnchor, UnixTime};
use webpki::{EndEntityCert, Error, KeyUsage as Purpose, anchor_from_trusted_cert};
use x509_cert::Certificate;
use x509_cert::ext::pkix::KeyUsage;

use super::signature::ACCEPTED;
use super::signer::moment;
use super::time::Moment;
use super::{AuthorityRoot, TimestampError};

/// The root among `roots` that the signer's certificate leads to.
pub fn root_of<'r>(
    signer: &[u8],
    certificates: &[&[u8]],
    roots: &'r [AuthorityRoot],
    at: Moment,
) -> Result<&'r AuthorityRoot, TimestampError> {
    // A signer that was itself named needs no path.
    if let Some(named) = roots.iter().find(|root| root.der == signer) {
        return Ok(named);
    }
    let mut reason = TimestampError::UnknownRoot;
    for root in roots {
        match leads_to(signer, certificates, root, at) {
            Ok(()) => return Ok(root),
            // "This root did not issue it" says least; any other reason is the better one.
            Err(TimestampError::UnknownRoot) => {}
            Err(other) => reason = other,
        }
    }
    Err(reason)
}

fn leads_to(
    signer: &[u8],
    certificates: &[&[u8]],
    root: &AuthorityRoot,
    at: Moment,
) -> Result<(), TimestampError> {
    let der = CertificateDer::from(root.der.as_slice());
    let anchor =
        anchor_from_trusted_cert(&der).map_err(|cause| TimestampError::BadRoot(cause.to_string()))?;
    let signer_der = CertificateDer::from(signer);
    let end = EndEntityCert::try_from(&signer_der).map_err(|cause| say(&cause, at))?;
    let others: Vec<CertificateDer<'_>> =
        certificates.iter().filter(|der| **der != signer).map(|der| CertificateDer::from(*der)).collect();
    let anchors: [TrustAnchor<'_>; 1] = [anchor];
    let accepted: Vec<&dyn SignatureVerificationAlgorithm> =
        ACCEPTED.iter().map(|algorithm| algorithm as &dyn SignatureVerificationAlgorithm).collect();
    let time = UnixTime::since_unix_epoch(std::time::Duration::from_secs(at.unix_seconds()));
    let purpose = Purpose::required_if_present(TIME_STAMPING);
    let path = end
        .verify_for_usage(&accepted, &anchors, &others, time, purpose, None, None)
        .map_err(|cause| say(&cause, at))?;
    path.intermediate_certificates().try_for_each(|issuer| may_issue(&issuer.der()))?;
    may_issue(&root.der)?;
    is_valid(&root.der, at)
}

/// An issuer whose key usage is stated must be for signing certificates (RFC 5280 section 4.2.1.3).
fn may_issue(der: &[u8]) -> Result<(), TimestampError> {
    let wrong = TimestampError::WrongPurpose;
    let certificate = Certificate::from_der(der).map_err(|_| wrong("an issuer can not be read"))?;
    let usage = certificate.tbs_certificate().get_extension::<KeyUsage>();
    let usage = usage.map_err(|_| wrong("an issuer's key usage can not be read"))?;
    let fits = usage.is_none_or(|(_, usage)| usage.key_cert_sign());
    if fits { Ok(()) } else { Err(wrong("an issuer's key is not for signing certificates")) }
}

fn is_valid(der: &[u8], at: Moment) -> Result<(), TimestampError> {
    let expired = || TimestampError::ChainExpired(at.rfc3339());
    let certificate = Certificate::from_der(der).map_err(|_| expired())?;
    let validity = certificate.tbs_certificate().validity();
    let (from, to) = (moment(&validity.not_before).unix_ms, moment(&validity.not_after).unix_ms);
    if (from..=to.saturating_add(999)).contains(&at.unix_ms) { Ok(()) } else { Err(expired()) }
}

fn say(cause: &Error, at: Moment) -> TimestampError {
    match cause {
        Error::UnknownIssuer => TimestampError::UnknownRoot,
        Error::CertExpired { .. } | Error::CertNotValidYet { .. } => {
            TimestampError::ChainExpired(at.rfc3339())
        }
        Error::InvalidSignatureForPublicKey => {
            TimestampError::BadSignature("a certificate is not signed by its issuer")
        }
        Error::RequiredEkuNotFoundContext(_) => {
            TimestampError::WrongPurpose("an issuer is not for time-stamping")
        }
        Error::EndEntityUsedAsCa => TimestampError::WrongPurpose("an issuer is not one that may issue"),
        Error::CaUsedAsEndEntity => TimestampError::WrongPurpose("the signer is an issuer of certificates"),
        Error::PathLenConstraintViolated => {
            TimestampError::WrongPurpose("the chain is longer than its root allows")
        }
        Error::UnsupportedSignatureAlgorithmContext(_)
        | Error::UnsupportedSignatureAlgorithmForPublicKeyContext(_) => {
            TimestampError::Unsupported("a signature in its certificates".into())
        }
        _ => TimestampError::Malformed("its certificates do not form a chain"),
    }
}

/// id-kp-timeStamping, the content of the object identifier.
const TIME_STAMPING: &[u8] = &[0x2b, 6, 1, 5, 5, 7, 3, 8];
