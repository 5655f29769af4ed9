-- Schema 1. A column never changes its meaning; a later schema adds a file beside this one.

-- One append-only log per job and device, with the tree's state after its newest record.
CREATE TABLE logs (
  log       INTEGER PRIMARY KEY,
  shop      TEXT    NOT NULL,
  job       TEXT    NOT NULL,
  device    TEXT    NOT NULL,
  size      INTEGER NOT NULL CHECK (size >= 1),
  last_leaf BLOB    NOT NULL CHECK (length(last_leaf) = 32),
  root      BLOB    NOT NULL CHECK (length(root) = 32),
  frontier  BLOB    NOT NULL CHECK (length(frontier) % 32 = 0),
  UNIQUE (job, device, shop)
) STRICT;

-- Leaf hashes alone, so that opening can recompute every root without reading the records.
CREATE TABLE leaves (
  log      INTEGER NOT NULL REFERENCES logs (log),
  sequence INTEGER NOT NULL CHECK (sequence >= 0),
  leaf     BLOB    NOT NULL CHECK (length(leaf) = 32),
  PRIMARY KEY (log, sequence)
) STRICT, WITHOUT ROWID;

-- The sealed bytes as they were signed for; the row number is the order in which this device learnt of them.
CREATE TABLE records (
  record   INTEGER PRIMARY KEY AUTOINCREMENT,
  log      INTEGER NOT NULL,
  sequence INTEGER NOT NULL,
  kind     TEXT    NOT NULL,
  wall     TEXT    NOT NULL,
  bytes    BLOB    NOT NULL,
  UNIQUE (log, sequence),
  FOREIGN KEY (log, sequence) REFERENCES leaves (log, sequence)
) STRICT;

-- Values that may be withheld or forgotten; the record holds only their salted digests.
CREATE TABLE disclosures (
  record   INTEGER NOT NULL REFERENCES records (record),
  position INTEGER NOT NULL,
  encoded  TEXT    NOT NULL,
  PRIMARY KEY (record, position)
) STRICT, WITHOUT ROWID;

-- Which originals a record names.
CREATE TABLE photos (
  record     INTEGER NOT NULL REFERENCES records (record),
  position   INTEGER NOT NULL,
  sha256     BLOB    NOT NULL CHECK (length(sha256) = 32),
  bytes      INTEGER NOT NULL CHECK (bytes >= 0),
  media_type TEXT    NOT NULL,
  PRIMARY KEY (record, position)
) STRICT, WITHOUT ROWID;
CREATE INDEX photos_by_hash ON photos (sha256);

-- Signed heads of a log.
CREATE TABLE checkpoints (
  log       INTEGER NOT NULL REFERENCES logs (log),
  size      INTEGER NOT NULL CHECK (size >= 1),
  text      TEXT    NOT NULL,
  signature BLOB    NOT NULL CHECK (length(signature) = 64),
  note      TEXT    NOT NULL,
  PRIMARY KEY (log, size)
) STRICT, WITHOUT ROWID;

-- Derived: one row per job for lists and search, with the folded job as its reader left it.
CREATE TABLE jobs (
  row           INTEGER PRIMARY KEY,
  job           TEXT    NOT NULL UNIQUE,
  number        INTEGER NOT NULL,
  title         TEXT    NOT NULL,
  vehicle       TEXT    NOT NULL,
  customer      TEXT    NOT NULL,
  stage         TEXT    NOT NULL,
  opened        TEXT    NOT NULL,
  changed       TEXT    NOT NULL,
  newest_record INTEGER NOT NULL REFERENCES records (record),
  words         TEXT    NOT NULL,
  cache         BLOB    NOT NULL,
  cache_records INTEGER NOT NULL CHECK (cache_records >= 0)
) STRICT;
CREATE INDEX jobs_by_number ON jobs (number);
CREATE INDEX jobs_by_change ON jobs (newest_record);

CREATE VIRTUAL TABLE job_search USING fts5 (
  words, content = 'jobs', content_rowid = 'row', tokenize = 'unicode61 remove_diacritics 2', prefix = '2 3'
);
-- Without this, forgotten words stay readable in the index's freed pages.
INSERT INTO job_search (job_search, rank) VALUES ('secure-delete', 1);

CREATE TRIGGER jobs_found_when_added AFTER INSERT ON jobs BEGIN
  INSERT INTO job_search (rowid, words) VALUES (new.row, new.words);
END;
CREATE TRIGGER jobs_found_when_changed AFTER UPDATE OF words ON jobs WHEN new.words <> old.words BEGIN
  INSERT INTO job_search (job_search, rowid, words) VALUES ('delete', old.row, old.words);
  INSERT INTO job_search (rowid, words) VALUES (new.row, new.words);
END;
CREATE TRIGGER jobs_lost_when_removed AFTER DELETE ON jobs BEGIN
  INSERT INTO job_search (job_search, rowid, words) VALUES ('delete', old.row, old.words);
END;

-- The shop's own details and preferences, as JSON.
CREATE TABLE settings (
  key  TEXT NOT NULL PRIMARY KEY,
  json TEXT NOT NULL CHECK (json_valid(json))
) STRICT, WITHOUT ROWID;

-- What was typed and not yet sealed.
CREATE TABLE drafts (
  job  TEXT NOT NULL,
  form TEXT NOT NULL,
  json TEXT NOT NULL CHECK (json_valid(json)),
  PRIMARY KEY (job, form)
) STRICT, WITHOUT ROWID;

-- What the app was about to do when it handed the screen to the camera: at most one row.
CREATE TABLE intent (
  only INTEGER NOT NULL PRIMARY KEY CHECK (only = 1),
  json TEXT    NOT NULL CHECK (json_valid(json))
) STRICT;
