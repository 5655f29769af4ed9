SELECT job, number, title, vehicle, customer, stage, opened, changed
FROM jobs
ORDER BY newest_record DESC
LIMIT :limit OFFSET :offset
