//! Why a time-stamp doesn't count, one kind of failure each.

/// What is wrong with a reply or a token, and what to try.
#[derive(Clone, Debug, PartialEq, Eq, thiserror::Error)]
pub enum TimestampError {
    /// The bytes aren't a reply or token of RFC 3161.
    #[error("the time-stamp can not be read: {0}; ask the authority again, or another one")]
    Malformed(&'static str),
    /// The authority answered, but gave no token.
    #[error("the authority refused ({status}): {text}; wait, or choose another authority")]
    Refused {
        /// In words of RFC 3161 section 2.4.2, for example `rejection`.
        status: &'static str,
        /// What the authority said, and the failure in words.
        text: String,
    },
    /// The token answers another query.
    #[error("the time-stamp answers another question (its nonce is not the one sent); ask again")]
    WrongNonce,
    /// The token is over other bytes.
    #[error("the time-stamp is of another text than this checkpoint")]
    WrongImprint,
    /// The signer's certificate wasn't valid at the time the token states.
    #[error(
        "the authority's certificate was valid from {from} to {to}, not at {at}; choose another authority"
    )]
    SignerExpired {
        /// RFC 3339, UTC.
        from: String,
        /// RFC 3339, UTC.
        to: String,
        /// The token's time.
        at: String,
    },
    /// A certificate between signer and root, or the root, wasn't valid at that time.
    #[error("a certificate above the authority's was not valid at {0}; choose another authority")]
    ChainExpired(String),
    /// No root that was named signed for the signer.
    #[error("the time-stamp is signed by an authority whose root you did not name")]
    UnknownRoot,
    /// The certificate, or one above it, isn't for time-stamping.
    #[error("the certificate is not one for time-stamping: {0}")]
    WrongPurpose(&'static str),
    /// A signature doesn't fit.
    #[error("the signature of the time-stamp does not fit: {0}")]
    BadSignature(&'static str),
    /// The signed attributes name no certificate by its SHA-2 hash (RFC 5816).
    #[error("the time-stamp does not name its certificate in the way of RFC 5816; choose another authority")]
    NoCertificateId,
    /// They name another certificate than the signer's.
    #[error("the time-stamp names another certificate than the one that signed it")]
    OtherCertificateId,
    /// The signer's certificate isn't in the token.
    #[error("the signer's certificate is not in the time-stamp; the query must ask for it")]
    NoCertificate,
    /// A key or algorithm this program doesn't check.
    #[error("the time-stamp uses {0}, which this program does not accept; choose another authority")]
    Unsupported(String),
    /// A file of roots holds no certificate.
    #[error("this is no certificate in PEM or DER: {0}")]
    BadRoot(String),
}

impl TimestampError {
    /// A short name of the failure, for translation; it never changes.
    pub fn code(&self) -> &'static str {
        match self {
            Self::Malformed(_) => "malformed",
            Self::Refused { .. } => "refused",
            Self::WrongNonce => "wrong_nonce",
            Self::WrongImprint => "wrong_imprint",
            Self::SignerExpired { .. } => "signer_expired",
            Self::ChainExpired(_) => "chain_expired",
            Self::UnknownRoot => "unknown_root",
            Self::WrongPurpose(_) => "wrong_purpose",
            Self::BadSignature(_) => "bad_signature",
            Self::NoCertificateId => "no_certificate_id",
            Self::OtherCertificateId => "other_certificate_id",
            Self::NoCertificate => "no_certificate",
            Self::Unsupported(_) => "unsupported",
            Self::BadRoot(_) => "bad_root",
        }
    }
}
