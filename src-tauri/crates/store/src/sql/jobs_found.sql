SELECT job, number, title, vehicle, customer, stage, opened, changed
FROM jobs
WHERE row IN (SELECT rowid FROM job_search WHERE job_search MATCH :match)
ORDER BY newest_record DESC
LIMIT :limit OFFSET :offset
