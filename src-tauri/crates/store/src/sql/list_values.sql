SELECT logs.job, logs.device, records.sequence, disclosures.encoded AS disclosure
FROM logs
JOIN records ON records.log = logs.log
JOIN disclosures ON disclosures.record = records.record
ORDER BY logs.job, logs.device, records.sequence, disclosures.position
