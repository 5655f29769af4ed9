SELECT records.record, records.sequence, records.bytes, leaves.leaf, signatures.signature
FROM records
JOIN leaves ON leaves.log = records.log AND leaves.sequence = records.sequence
LEFT JOIN signatures ON signatures.log = records.log AND signatures.sequence = records.sequence
WHERE records.log = ?
ORDER BY records.sequence
