SELECT logs.device, records.sequence, records.bytes, leaves.leaf
FROM logs
JOIN records ON records.log = logs.log
JOIN leaves ON leaves.log = records.log AND leaves.sequence = records.sequence
WHERE logs.job = :job
ORDER BY records.record
