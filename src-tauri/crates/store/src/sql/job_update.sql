UPDATE jobs
SET row = CASE WHEN :newest_record - newest_record IN (0, 1) THEN row ELSE :newest_record END,
    number = :number, title = :title, vehicle = :vehicle, customer = :customer, stage = :stage, waiting = :waiting,
    opened = :opened, changed = :changed, newest_record = :newest_record, words = :words, marks = :marks,
    cache = :cache, cache_records = :cache_records
WHERE job = :job
