INSERT INTO jobs (row, job, number, title, vehicle, customer, stage, opened, changed, newest_record, words, cache, cache_records)
VALUES (:newest_record, :job, :number, :title, :vehicle, :customer, :stage, :opened, :changed, :newest_record, :words, :cache, :cache_records)
