INSERT INTO jobs (job, number, title, vehicle, customer, stage, opened, changed, newest_record, words, cache, cache_records)
VALUES (:job, :number, :title, :vehicle, :customer, :stage, :opened, :changed, :newest_record, :words, :cache, :cache_records)
ON CONFLICT (job) DO UPDATE
SET number = excluded.number, title = excluded.title, vehicle = excluded.vehicle, customer = excluded.customer,
    stage = excluded.stage, opened = excluded.opened, changed = excluded.changed,
    newest_record = excluded.newest_record, words = excluded.words,
    cache = excluded.cache, cache_records = excluded.cache_records
