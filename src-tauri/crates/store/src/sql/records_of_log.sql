SELECT record, sequence, bytes FROM records WHERE log = ? ORDER BY sequence
