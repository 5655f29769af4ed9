//! One question, one answer.

use std::time::Duration;

use ureq::Agent;
use ureq::tls::{Certificate, RootCerts, TlsConfig};

use crate::{Address, AskError};

/// How long an answer may take and how long it may be.
#[derive(Clone, Debug)]
pub struct Limits {
    /// For everything from the name's look-up to the last byte.
    pub time: Duration,
    /// Bytes of an answer; a token with its certificates takes 3 to 10 kB.
    pub bytes: u64,
    /// Roots that a server's certificate may lead to, PEM, in place of those built in (an authority of one's own).
    pub server_roots: Vec<Vec<u8>>,
}

impl Default for Limits {
    fn default() -> Self {
        Self { time: Duration::from_secs(20), bytes: 1 << 20, server_roots: Vec::new() }
    }
}

/// Sends `question` (DER of a TimeStampReq) and returns the answer's bytes (DER of a TimeStampResp), unchecked.
///
/// # Errors
/// [`AskError`]: whatever kept an answer from coming. A refusal by the authority itself is an answer.
pub fn ask(address: &Address, question: &[u8], limits: &Limits) -> Result<Vec<u8>, AskError> {
    let request = agent(limits)?
        .post(address.as_str())
        .header("content-type", "application/timestamp-query")
        .header("accept", "application/timestamp-reply");
    let mut response = request.send(question).map_err(|error| failed(&error, limits))?;
    let sort = response.headers().get("content-type").and_then(|sort| sort.to_str().ok()).unwrap_or_default();
    // Some servers add parameters behind a semicolon.
    let sort = sort.split(';').next().unwrap_or_default().trim().to_ascii_lowercase();
    if sort != "application/timestamp-reply" && sort != "application/timestamp-response" {
        return Err(AskError::NotAnAnswer(if sort.is_empty() { "no content type".to_owned() } else { sort }));
    }
    response
        .body_mut()
        .with_config()
        .limit(limits.bytes)
        .read_to_vec()
        .map_err(|error| failed(&error, limits))
}

fn agent(limits: &Limits) -> Result<Agent, AskError> {
    let mut tls = TlsConfig::builder();
    if !limits.server_roots.is_empty() {
        let read =
            |pem: &Vec<u8>| Certificate::from_pem(pem).map_err(|error| AskError::Unsafe(error.to_string()));
        let roots: Vec<Certificate<'static>> =
            limits.server_roots.iter().map(read).collect::<Result<_, _>>()?;
        tls = tls.root_certs(RootCerts::from(roots));
    }
    let config = Agent::config_builder()
        .timeout_global(Some(limits.time))
        // A moved authority is the user's decision: a redirect would send the question where nobody chose.
        .max_redirects(0)
        .user_agent("")
        .tls_config(tls.build());
    Ok(config.build().into())
}

fn failed(error: &ureq::Error, limits: &Limits) -> AskError {
    use ureq::Error as E;
    match error {
        E::StatusCode(status) => AskError::Status(*status),
        E::Timeout(_) => AskError::TooSlow,
        E::BodyExceedsLimit(_) => AskError::TooLong(limits.bytes),
        E::BadUri(_) | E::RequireHttpsOnly(_) => AskError::Address(error.to_string()),
        E::Tls(_) | E::Rustls(_) | E::Pem(_) => AskError::Unsafe(error.to_string()),
        // A refused certificate comes out of the handshake as an ordinary input error.
        E::Io(io) if io.kind() == std::io::ErrorKind::InvalidData => AskError::Unsafe(io.to_string()),
        E::Protocol(_) | E::TooManyRedirects => AskError::NotAnAnswer(error.to_string()),
        other => AskError::Unreachable(other.to_string()),
    }
}
