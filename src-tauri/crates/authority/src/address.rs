//! Addresses that a question may be sent to.

use std::fmt;
use std::str::FromStr;

use crate::AskError;

/// Longest address that is taken.
const LONGEST: usize = 300;

/// `https://…` or `http://…`, checked for form only.
///
/// An answer proves itself by its signature, so an unencrypted way can't forge it; it only lets others see that a
/// question was asked, and the hash in it.
#[derive(Clone, Debug, PartialEq, Eq, PartialOrd, Ord)]
pub struct Address(String);

impl Address {
    /// True when the way to the authority is encrypted.
    #[must_use]
    pub fn is_encrypted(&self) -> bool {
        self.0.starts_with("https://")
    }

    /// As typed, without spaces around it.
    #[must_use]
    pub fn as_str(&self) -> &str {
        &self.0
    }
}

impl FromStr for Address {
    type Err = AskError;

    fn from_str(typed: &str) -> Result<Self, AskError> {
        let typed = typed.trim();
        let wrong = || AskError::Address(typed.chars().take(LONGEST).collect());
        let after =
            typed.strip_prefix("https://").or_else(|| typed.strip_prefix("http://")).ok_or_else(wrong)?;
        let host = after.split(['/', '?']).next().unwrap_or_default();
        // A name and password in the address would end up in records that are handed out.
        let named = !host.is_empty() && !host.contains('@') && !host.starts_with(':');
        let plain = typed.len() <= LONGEST && typed.chars().all(|letter| letter.is_ascii_graphic());
        if named && plain { Ok(Self(typed.to_owned())) } else { Err(wrong()) }
    }
}

impl fmt::Display for Address {
    fn fmt(&self, f: &mut fmt::Formatter<'_>) -> fmt::Result {
        f.write_str(&self.0)
    }
}

#[cfg(test)]
#[allow(clippy::unwrap_used)]
mod tests {
    use super::*;

    #[test]
    fn takes_web_addresses_and_nothing_else() {
        for good in ["https://time.example/tsa", " http://127.0.0.1:8080 ", "https://[::1]:8443/x?y=1"] {
            assert!(good.parse::<Address>().is_ok(), "{good}");
        }
        let long = format!("https://{}", "a".repeat(400));
        for bad in [
            "",
            "time.example",
            "ftp://time.example",
            "https://",
            "https:///tsa",
            "https://:80",
            "https://u:p@x",
            "https://a b",
            &long,
        ] {
            assert!(bad.parse::<Address>().is_err(), "{bad}");
        }
    }

    #[test]
    fn says_whether_the_way_is_encrypted() {
        assert!("https://time.example".parse::<Address>().unwrap().is_encrypted());
        assert!(!"http://time.example".parse::<Address>().unwrap().is_encrypted());
    }
}
