use std::collections::BTreeSet;

use evidence::{Digest, Frontier, LogId, PhotoRef, PublicKey, tree};
use rusqlite::{Connection, named_params};
use serde::Deserialize;

use crate::StoreError;
use crate::heads::Heads;
use crate::log::{LogState, digest};

/// What one log's rows came to when every byte of them was read and hashed.
pub(crate) struct Survey {
    /// Leaf hashes as stored, up to the first that is missing.
    pub(crate) leaves: Vec<Digest>,
    /// The same from the records' bytes, where there are any: what counts if a known key signed for more of it.
    pub(crate) hashed: Vec<Digest>,
    /// How many of those it signed for.
    pub(crate) vouched_by_bytes: u64,
    /// Records whose bytes are missing or don't hash to their leaf.
    pub(crate) damaged: BTreeSet<u64>,
    /// Records of which a value that may be withheld was changed.
    pub(crate) altered: BTreeSet<u64>,
    /// Records of which such a value isn't here; it may never have been.
    pub(crate) lacking: BTreeSet<u64>,
    /// Records whose derived columns or photo rows say something else than their bytes.
    pub(crate) derived: BTreeSet<u64>,
    /// How many records, from the first on, a known key of the device signed for.
    pub(crate) vouched: u64,
    /// Whether records were signed one by one.
    pub(crate) one_by_one: bool,
    /// Whether the log's row says of size, newest leaf and root what follows from the leaves.
    pub(crate) row_fits: bool,
}

impl Survey {
    pub(crate) fn size(&self) -> u64 {
        self.leaves.len() as u64
    }

    /// Nothing to settle: what lacks may lack.
    pub(crate) fn sound(&self) -> bool {
        self.row_fits && self.damaged.is_empty() && self.altered.is_empty() && self.derived.is_empty()
    }

    /// Records were signed one by one, but not all by a known key.
    pub(crate) fn doubtful(&self) -> bool {
        self.one_by_one && self.vouched < self.size()
    }

    /// Records at the end that nobody signed for, in a log whose records are signed one by one: not this device's work. A log
    /// of which nothing is vouched for is left whole: its key may only be unknown.
    pub(crate) fn intruded(&self) -> bool {
        self.one_by_one && (1..self.size()).contains(&self.vouched)
    }

    /// What is wrong, for the log.
    pub(crate) fn complaint(&self) -> Option<String> {
        let listed = |numbers: &BTreeSet<u64>| {
            numbers.iter().take(5).map(u64::to_string).collect::<Vec<_>>().join(", ")
        };
        if !self.damaged.is_empty() {
            Some(format!("the bytes of record {} are not those that were kept", listed(&self.damaged)))
        } else if !self.altered.is_empty() {
            Some(format!("a value of record {} is not the one that was kept", listed(&self.altered)))
        } else if !self.row_fits {
            Some("the stored root is not that of the records".to_owned())
        } else {
            None
        }
    }
}

/// The fields of a record that its rows repeat.
#[derive(Deserialize)]
pub(crate) struct Repeated {
    pub(crate) kind: String,
    pub(crate) wall: String,
    pub(crate) photos: Vec<PhotoRef>,
    pub(crate) withheld: BTreeSet<Digest>,
}

/// Reads a log from its first row to its last.
pub(crate) fn survey(
    connection: &Connection,
    log: &LogId,
    state: &LogState,
    keys: &[PublicKey],
) -> Result<Survey, StoreError> {
    let forgotten = forgotten_of(connection, &log.job)?;
    let mut found = Survey {
        leaves: Vec::new(),
        hashed: Vec::new(),
        vouched_by_bytes: 0,
        damaged: BTreeSet::new(),
        altered: BTreeSet::new(),
        lacking: BTreeSet::new(),
        derived: BTreeSet::new(),
        vouched: 0,
        one_by_one: false,
        row_fits: false,
    };
    let mut statement = connection.prepare_cached(include_str!("../sql/survey.sql"))?;
    let mut rows = statement.query(named_params! { ":log": state.log })?;
    while let Some(row) = rows.next()? {
        let sequence: u64 = row.get(0)?;
        if sequence != found.size() {
            break;
        }
        let leaf = digest(row, 1)?;
        found.leaves.push(leaf);
        let Some(record) = row.get::<_, Option<i64>>(2)? else {
            found.hashed.push(leaf);
            found.damaged.insert(sequence);
            continue;
        };
        let bytes = row.get_ref(3)?.as_bytes().unwrap_or_default();
        found.hashed.push(tree::leaf(bytes));
        let repeated = (tree::leaf(bytes) == leaf).then(|| serde_json::from_slice::<Repeated>(bytes).ok());
        let Some(Some(repeated)) = repeated else {
            found.damaged.insert(sequence);
            continue;
        };
        let columns = (row.get::<_, String>(4)?, row.get::<_, String>(5)?);
        let derived = columns == (repeated.kind.clone(), repeated.wall.clone())
            && photos_of(connection, record)? == repeated.photos;
        if !derived {
            found.derived.insert(sequence);
        }
        values(connection, record, sequence, &repeated, &forgotten, &mut found)?;
    }
    let heads = Heads::of_log(connection, state.log)?;
    found.one_by_one = heads.one_by_one;
    found.vouched = heads.vouched(log, &found.leaves, keys);
    found.vouched_by_bytes =
        if found.damaged.is_empty() { found.vouched } else { heads.vouched(log, &found.hashed, keys) };
    found.row_fits = fits(state, &found.leaves);
    Ok(found)
}

fn values(
    connection: &Connection,
    record: i64,
    sequence: u64,
    repeated: &Repeated,
    forgotten: &BTreeSet<Digest>,
    found: &mut Survey,
) -> Result<(), StoreError> {
    let mut held = BTreeSet::new();
    for encoded in encoded_values(connection, record)? {
        let digest = Digest::of(encoded.as_bytes());
        if !repeated.withheld.contains(&digest) {
            found.altered.insert(sequence);
        }
        held.insert(digest);
    }
    if repeated.withheld.iter().any(|digest| !held.contains(digest) && !forgotten.contains(digest)) {
        found.lacking.insert(sequence);
    }
    Ok(())
}

fn fits(state: &LogState, leaves: &[Digest]) -> bool {
    let tree = Frontier::of(leaves);
    state.size == tree.size()
        && leaves.last() == Some(&state.last)
        && state.root == tree.root()
        && state.frontier().as_ref() == Some(&tree)
}

/// A record's values that may be withheld, as they are stored.
pub(crate) fn encoded_values(connection: &Connection, record: i64) -> Result<Vec<String>, StoreError> {
    let find = "SELECT encoded FROM disclosures WHERE record = ? ORDER BY position";
    let mut statement = connection.prepare_cached(find)?;
    let encoded = statement.query_map([record], |row| row.get(0))?;
    Ok(encoded.collect::<Result<_, _>>()?)
}

/// Digests of what was destroyed of a job on request.
pub(crate) fn forgotten_of(connection: &Connection, job: &str) -> Result<BTreeSet<Digest>, StoreError> {
    let mut statement = connection.prepare_cached("SELECT digest FROM forgotten WHERE job = ?")?;
    let digests = statement.query_map([job], |row| digest(row, 0))?;
    Ok(digests.collect::<Result<_, _>>()?)
}

fn photos_of(connection: &Connection, record: i64) -> Result<Vec<PhotoRef>, StoreError> {
    let find = "SELECT sha256, bytes, media_type FROM photos WHERE record = ? ORDER BY position";
    let mut statement = connection.prepare_cached(find)?;
    let photos = statement.query_map([record], |row| {
        Ok(PhotoRef { sha256: digest(row, 0)?, bytes: row.get(1)?, media_type: row.get(2)? })
    })?;
    Ok(photos.collect::<Result<_, _>>()?)
}
