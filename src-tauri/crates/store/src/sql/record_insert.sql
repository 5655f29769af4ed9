INSERT INTO records (log, sequence, kind, wall, bytes) VALUES (:log, :sequence, :kind, :wall, :bytes) RETURNING record
