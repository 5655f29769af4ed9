SELECT counted.job, coalesce(jobs.number, 0), coalesce(jobs.title, ''), counted.records
FROM (SELECT job, sum(size) AS records FROM logs GROUP BY job) AS counted
LEFT JOIN jobs ON jobs.job = counted.job
ORDER BY coalesce(jobs.number, 0), counted.job
