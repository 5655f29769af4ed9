-- Schema 3: every record is signed for when it is sealed, and the database knows how long each journal is.

-- The device's Ed25519 signature over the checkpoint of the log as it was with this record as its last. Records from
-- before this schema have none: they count as far as the newest checkpoint of their log that is signed.
CREATE TABLE signatures (
  log       INTEGER NOT NULL,
  sequence  INTEGER NOT NULL,
  signature BLOB    NOT NULL CHECK (length(signature) = 64),
  PRIMARY KEY (log, sequence),
  FOREIGN KEY (log, sequence) REFERENCES leaves (log, sequence)
) STRICT, WITHOUT ROWID;

-- Bytes of the log's journal once it holds all that this row speaks of; -1 where nobody has measured it yet. A file of
-- another length is read at the next start.
ALTER TABLE logs ADD COLUMN journal_bytes INTEGER NOT NULL DEFAULT -1;
