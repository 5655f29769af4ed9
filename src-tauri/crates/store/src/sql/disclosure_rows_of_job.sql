SELECT disclosures.record, disclosures.position, disclosures.encoded
FROM logs
JOIN records ON records.log = logs.log
JOIN disclosures ON disclosures.record = records.record
WHERE logs.job = ?
