INSERT INTO records (record, log, sequence, kind, wall, bytes) VALUES (:record, :log, :sequence, :kind, :wall, :bytes)
ON CONFLICT (log, sequence) DO UPDATE SET kind = excluded.kind, wall = excluded.wall, bytes = excluded.bytes
