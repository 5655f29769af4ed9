SELECT records.sequence, records.bytes, leaves.leaf
FROM records
JOIN leaves ON leaves.log = records.log AND leaves.sequence = records.sequence
WHERE records.log = :log AND records.sequence >= :from
ORDER BY records.sequence
LIMIT :limit
