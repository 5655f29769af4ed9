INSERT INTO checkpoints (log, size, text, signature, note) VALUES (:log, :size, :text, :signature, :note)
ON CONFLICT (log, size) DO NOTHING
