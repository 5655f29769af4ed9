UPDATE jobs
SET row = CASE WHEN :newest_record - newest_record IN (0, 1) THEN row ELSE :newest_record END,
    newest_record = :newest_record
WHERE job = :job
