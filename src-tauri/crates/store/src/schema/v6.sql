-- Schema 6: records of a kind are found and counted without reading all of them.
CREATE INDEX records_by_kind ON records (kind);
