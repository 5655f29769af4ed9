use std::fs;
use std::path::{Path, PathBuf};

use rusqlite::{Connection, TransactionBehavior};

use crate::disk::restrict;
use crate::folder::suspicion;
use crate::{Access, StoreError};

/// Every schema in order: the first is version 1.
const SCHEMAS: &[&str] = &[
    include_str!("schema/v1.sql"),
    include_str!("schema/v2.sql"),
    include_str!("schema/v3.sql"),
    include_str!("schema/v4.sql"),
    include_str!("schema/v5.sql"),
    include_str!("schema/v6.sql"),
];
/// Bytes of a database that is read through at every start. A larger one is, after an end that left its write-ahead log
/// behind or on which a page could not be read; otherwise [`crate::Store::check`] does it.
const CHECKED_AT_START: u64 = 16 << 20;
/// "TSTM": marks the file as ours among SQLite databases.
const APPLICATION: u32 = 0x5453_544D;

/// Newest schema this version knows.
pub const SCHEMA: u32 = SCHEMAS.len() as u32;

/// The database as it was opened.
pub(crate) struct Opened {
    pub(crate) connection: Connection,
    /// Where a damaged one went.
    pub(crate) aside: Option<PathBuf>,
    /// Whether it was written before there was a signed list of known keys.
    pub(crate) older: bool,
}

/// The first schema whose folders have a signed list of known keys.
const FIRST_WITH_LIST: u32 = 3;

/// The first schema whose search finds a phone number however it is written.
const FIRST_WITH_PHONES: u32 = 5;

/// Opens the database, moving a damaged one aside.
pub(crate) fn open(path: &Path) -> Result<Opened, StoreError> {
    if has_log_without_database(path) {
        // SQLite would delete such a write-ahead log as stale.
        let aside = move_aside(path)?;
        return Ok(Opened { aside: Some(aside), ..open_sound(path)? });
    }
    match open_sound(path) {
        Err(StoreError::Damaged { .. }) => {
            let aside = move_aside(path)?;
            Ok(Opened { aside: Some(aside), ..open_sound(path)? })
        }
        opened => opened,
    }
}

fn open_sound(path: &Path) -> Result<Opened, StoreError> {
    let unclean = has_unwritten_log(path);
    begin(path);
    let mut connection = Connection::open(path)?;
    // The lock on the folder makes this the only user, so SQLite may keep its index of the write-ahead log in
    // memory. Set before the first read: otherwise it wants a shared-memory file, which a full disk refuses.
    connection.pragma_update(None, "locking_mode", "EXCLUSIVE")?;
    if connection.is_readonly("main")? {
        return Err(StoreError::ReadOnly { path: path.to_path_buf() });
    }
    let version = number(&connection, "user_version")?;
    refuse_foreign(&connection, path, version)?;
    if version > SCHEMA {
        return Err(StoreError::TooNew { found: version, known: SCHEMA });
    }
    configure(&connection)?;
    let suspected = suspicion(path);
    if unclean || suspected.exists() || fs::metadata(path).is_ok_and(|data| data.len() <= CHECKED_AT_START) {
        check(&connection)?;
        let _ = fs::remove_file(suspected);
    }
    migrate(&mut connection, version)?;
    Ok(Opened { connection, aside: None, older: (1..FIRST_WITH_LIST).contains(&version) })
}

/// SQLite makes files that everybody may read, and gives its logs the rights of its database: so that one is there
/// before, empty and for its owner alone. What can't be made here, SQLite says.
fn begin(path: &Path) {
    let mut options = fs::OpenOptions::new();
    options.write(true).create_new(true);
    restrict(&mut options, Access::OwnerOnly);
    let _ = options.open(path);
}

fn configure(connection: &Connection) -> Result<(), StoreError> {
    connection.pragma_update(None, "journal_mode", "WAL")?;
    connection.pragma_update(None, "synchronous", "FULL")?;
    // Both do nothing except on Apple systems, where a plain fsync stops at the drive's cache.
    connection.pragma_update(None, "fullfsync", true)?;
    connection.pragma_update(None, "checkpoint_fullfsync", true)?;
    connection.pragma_update(None, "foreign_keys", true)?;
    // Forgetting someone must not leave their words in freed pages.
    connection.pragma_update(None, "secure_delete", true)?;
    connection.pragma_update(None, "trusted_schema", false)?;
    connection.pragma_update(None, "temp_store", "MEMORY")?;
    connection.set_prepared_statement_cache_capacity(64);
    Ok(())
}

/// Finds damage of the file; a damaged search index is only derived and is built again.
fn check(connection: &Connection) -> Result<(), StoreError> {
    let mut statement = connection.prepare("PRAGMA quick_check(20)")?;
    let complaints: Vec<String> = statement.query_map([], |row| row.get(0))?.collect::<Result<_, _>>()?;
    let (search, file): (Vec<_>, Vec<_>) =
        complaints.into_iter().filter(|line| line != "ok").partition(|line| line.contains("job_search"));
    if let Some(detail) = file.into_iter().next() {
        return Err(StoreError::Damaged { detail });
    }
    if !search.is_empty() {
        connection.execute("INSERT INTO job_search (job_search) VALUES ('rebuild')", [])?;
    }
    Ok(())
}

/// Each step commits together with its version number, so that a crash between steps resumes cleanly.
fn migrate(connection: &mut Connection, from: u32) -> Result<(), StoreError> {
    for (schema, version) in SCHEMAS.iter().zip(1u32..).filter(|(_, version)| *version > from) {
        let step = connection.transaction_with_behavior(TransactionBehavior::Immediate)?;
        step.execute_batch(schema)?;
        if version == FIRST_WITH_PHONES {
            crate::jobs::reword(&step)?;
        }
        step.pragma_update(None, "application_id", APPLICATION)?;
        step.pragma_update(None, "user_version", version)?;
        step.commit()?;
    }
    Ok(())
}

fn refuse_foreign(connection: &Connection, path: &Path, version: u32) -> Result<(), StoreError> {
    let tables: u32 = connection.query_row("SELECT count(*) FROM sqlite_schema", [], |row| row.get(0))?;
    let ours = number(connection, "application_id")? == APPLICATION;
    let fresh = version == 0 && tables == 0;
    if ours || fresh { Ok(()) } else { Err(StoreError::Foreign { path: path.to_path_buf() }) }
}

fn number(connection: &Connection, pragma: &str) -> Result<u32, StoreError> {
    Ok(connection.pragma_query_value(None, pragma, |row| row.get(0))?)
}

/// An ordinary end leaves no write-ahead log behind.
fn has_unwritten_log(path: &Path) -> bool {
    fs::metadata(beside(path, "-wal")).is_ok_and(|data| data.len() > 0)
}

fn has_log_without_database(path: &Path) -> bool {
    let size = |path: &Path| fs::metadata(path).map_or(0, |data| data.len());
    size(path) == 0 && size(&beside(path, "-wal")) > 0
}

/// Renames the database and what belongs to it to the first free `…damaged-N.sqlite`.
fn move_aside(path: &Path) -> Result<PathBuf, StoreError> {
    let aside = (1u32..)
        .map(|number| path.with_file_name(format!("testimeter-damaged-{number}.sqlite")))
        .find(|aside| !aside.exists() && !beside(aside, "-wal").exists())
        .unwrap_or_else(|| path.with_extension("damaged"));
    let _ = fs::remove_file(suspicion(path));
    for suffix in ["-wal", "-shm", "-journal", ""] {
        let (from, to) = (beside(path, suffix), beside(&aside, suffix));
        if from.exists() {
            fs::rename(&from, &to).map_err(|error| StoreError::file("move aside", &from, error))?;
        }
    }
    Ok(aside)
}

fn beside(path: &Path, suffix: &str) -> PathBuf {
    let mut name = path.as_os_str().to_owned();
    name.push(suffix);
    PathBuf::from(name)
}
