-- Schema 2: keys of other devices, time-stamps that wait for a network, and forgetting.

-- Public keys in the order this device learnt of them; a device whose key was replaced has several.
CREATE TABLE device_keys (
  learnt      INTEGER PRIMARY KEY,
  device      TEXT NOT NULL,
  fingerprint BLOB NOT NULL CHECK (length(fingerprint) = 32),
  pem         TEXT NOT NULL,
  UNIQUE (device, fingerprint)
) STRICT;

-- Checkpoints that still want a time-stamp, one row per authority asked. Times are milliseconds since 1970 (UTC).
CREATE TABLE time_stamp_queue (
  log        INTEGER NOT NULL,
  size       INTEGER NOT NULL,
  authority  TEXT    NOT NULL,
  attempts   INTEGER NOT NULL CHECK (attempts >= 0),
  next_try   INTEGER NOT NULL,
  last_error TEXT    NOT NULL,
  PRIMARY KEY (log, size, authority),
  FOREIGN KEY (log, size) REFERENCES checkpoints (log, size)
) STRICT, WITHOUT ROWID;
CREATE INDEX time_stamps_by_time ON time_stamp_queue (next_try);

-- Digests of values and originals that were destroyed on request: no import or restored copy may bring them back.
CREATE TABLE forgotten (
  digest BLOB NOT NULL PRIMARY KEY CHECK (length(digest) = 32),
  job    TEXT NOT NULL
) STRICT, WITHOUT ROWID;

-- What is left to destroy after a forgetting was committed: at most one row, read again after a crash.
CREATE TABLE forgetting (
  only INTEGER NOT NULL PRIMARY KEY CHECK (only = 1),
  json TEXT    NOT NULL CHECK (json_valid(json))
) STRICT;

-- Jobs whose list row doesn't cover their newest records yet, because those came from elsewhere.
CREATE TABLE jobs_to_fold (
  job TEXT NOT NULL PRIMARY KEY
) STRICT, WITHOUT ROWID;
