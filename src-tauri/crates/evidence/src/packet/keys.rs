//! The keys of one log, in the order in which they signed, and the files that show how one followed the other.

use std::collections::BTreeMap;

use super::ledger::{KeyRecord, Ledger};
use super::place;
use crate::succession::Link;
use crate::{EvidenceError, PublicKey};

/// The keys of a log.
#[derive(Debug)]
pub struct Keys {
    /// In order; each with the size of the log from which on it signs. The first signs from 0.
    pub all: Vec<Signing>,
    /// Devices that a record of this log names.
    pub joined: Vec<Link>,
}

/// One key and how it came to sign.
#[derive(Debug)]
pub struct Signing {
    /// Checkpoints over this many records and more are signed with it, until the next one.
    pub from: u64,
    /// The key.
    pub key: PublicKey,
    /// How the one before it named it; none for the first.
    pub link: Option<Link>,
}

impl Keys {
    /// Reads the keys of a log that ends with `newest`.
    ///
    /// # Errors
    /// Sequence of the record and what is wrong with what it says about keys.
    pub fn of(ledger: &Ledger, shop: &str, device: &str, newest: &PublicKey) -> Result<Self, (u64, String)> {
        let (mut followed, mut joined) = (Vec::new(), Vec::new());
        for (sequence, record) in &ledger.keys {
            let (link, joins) = match record {
                KeyRecord::Changed(body) => (body.check(shop), false),
                KeyRecord::Lost(body) => (body.check(shop), false),
                KeyRecord::Added(body) => (body.check(shop), true),
            };
            let link = link.map_err(|cause| (*sequence, cause.to_string()))?;
            if joins {
                joined.push(link);
            } else if link.device == device {
                followed.push((*sequence, link));
            } else {
                return Err((*sequence, "it is about the key of another device".into()));
            }
        }
        let first = followed.first().map_or(*newest, |(_, link)| link.from);
        let mut all = vec![Signing { from: 0, key: first, link: None }];
        for (sequence, link) in followed {
            if all.last().is_some_and(|before| before.key != link.from) {
                return Err((
                    sequence,
                    "it starts from another key than the one that signed until here".into(),
                ));
            }
            all.push(Signing { from: sequence.saturating_add(1), key: link.to, link: Some(link) });
        }
        if all.last().is_some_and(|last| last.key != *newest) {
            let sequence = all.last().map_or(0, |last| last.from.saturating_sub(1));
            return Err((sequence, "the key it names is not the one in key.pem".into()));
        }
        Ok(Self { all, joined })
    }

    /// The key that signs a checkpoint over `size` records.
    pub fn at(&self, size: u64) -> Option<&PublicKey> {
        self.all.iter().rfind(|signing| signing.from <= size).map(|signing| &signing.key)
    }

    /// The files in the log's folder, by path below it: the newest key, those before it, and the signed statements.
    ///
    /// # Errors
    /// [`EvidenceError::BadKey`].
    pub fn files(&self) -> Result<BTreeMap<String, Vec<u8>>, EvidenceError> {
        let mut files = BTreeMap::new();
        for (number, (signing, next)) in (1_u32..).zip(self.all.iter().zip(self.all.iter().skip(1))) {
            let stem = place::earlier_key_stem(number);
            files.insert(format!("{stem}.pem"), signing.key.pem()?.into_bytes());
            if let Some((statement, signature)) = next.link.as_ref().and_then(|link| link.signed.as_ref()) {
                files.insert(format!("{stem}-next.txt"), statement.text().into_bytes());
                files.insert(format!("{stem}-next.sig"), signature.to_vec());
            }
        }
        if let Some(newest) = self.all.last() {
            files.insert("key.pem".into(), newest.key.pem()?.into_bytes());
        }
        for link in &self.joined {
            let stem = format!("joined/{}", link.device);
            files.insert(format!("{stem}.pem"), link.from.pem()?.into_bytes());
            if let Some((statement, signature)) = &link.signed {
                files.insert(format!("{stem}.txt"), statement.text().into_bytes());
                files.insert(format!("{stem}.sig"), signature.to_vec());
            }
        }
        Ok(files)
    }
}

/// Devices for which a log names another key than any that signed the device's own log.
pub fn under_another_name<'a>(logs: &[(&'a str, &Keys)]) -> Vec<&'a str> {
    let named = |device: &str, key: &PublicKey| {
        let links = logs.iter().flat_map(|(_, keys)| &keys.joined).filter(|link| link.device == device);
        let named: Vec<&PublicKey> = links.map(|link| &link.to).collect();
        (named.is_empty(), named.contains(&key))
    };
    let strange = logs.iter().filter(|(device, keys)| {
        let said = || keys.all.iter().map(|signing| named(device, &signing.key));
        said().all(|(nobody, held)| !nobody && !held)
    });
    strange.map(|(device, _)| *device).collect()
}
