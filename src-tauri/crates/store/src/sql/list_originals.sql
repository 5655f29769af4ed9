SELECT logs.job, logs.device, records.sequence, photos.sha256, photos.bytes, photos.media_type
FROM logs
JOIN records ON records.log = logs.log
JOIN photos ON photos.record = records.record
ORDER BY logs.job, logs.device, records.sequence, photos.position
