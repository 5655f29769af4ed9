SELECT job FROM jobs_to_fold
UNION
SELECT job FROM logs WHERE job NOT IN (SELECT job FROM jobs)
ORDER BY job
