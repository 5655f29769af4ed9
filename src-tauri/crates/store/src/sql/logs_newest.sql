SELECT shop, job, device
FROM (SELECT log, max(record) AS newest FROM (SELECT log, record FROM records ORDER BY record DESC LIMIT 500) GROUP BY log)
JOIN logs USING (log)
ORDER BY newest DESC
