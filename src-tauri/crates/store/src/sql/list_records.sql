SELECT logs.job, logs.device, records.sequence, records.kind, records.wall, leaves.leaf, length(records.bytes) AS bytes
FROM logs
JOIN records ON records.log = logs.log
JOIN leaves ON leaves.log = records.log AND leaves.sequence = records.sequence
ORDER BY logs.job, logs.device, records.sequence
