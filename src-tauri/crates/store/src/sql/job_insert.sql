INSERT INTO jobs (row, job, number, title, vehicle, customer, stage, waiting, opened, changed, newest_record, words, marks, cache, cache_records)
VALUES (:newest_record, :job, :number, :title, :vehicle, :customer, :stage, :waiting, :opened, :changed, :newest_record, :words, :marks, :cache, :cache_records)
