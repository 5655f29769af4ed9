SELECT rowid FROM job_search WHERE job_search MATCH :match AND rowid < :before ORDER BY rowid DESC LIMIT :limit
