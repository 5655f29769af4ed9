SELECT DISTINCT photos.sha256
FROM logs
JOIN records ON records.log = logs.log
JOIN photos ON photos.record = records.record
WHERE logs.job = ?
ORDER BY photos.sha256
