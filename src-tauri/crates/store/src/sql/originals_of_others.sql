SELECT DISTINCT photos.sha256
FROM photos
JOIN records ON records.record = photos.record
JOIN logs ON logs.log = records.log
WHERE logs.job <> ?
