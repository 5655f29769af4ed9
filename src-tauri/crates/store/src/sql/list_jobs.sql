SELECT logs.job, jobs.number, jobs.title, jobs.vehicle, jobs.customer, jobs.stage, jobs.opened, jobs.changed,
       sum(logs.size) AS records
FROM logs
LEFT JOIN jobs ON jobs.job = logs.job
GROUP BY logs.job
ORDER BY jobs.number, logs.job
