INSERT INTO time_stamp_queue (log, size, authority, attempts, next_try, last_error)
VALUES (:log, :size, :authority, 0, :next_try, '')
ON CONFLICT (log, size, authority) DO NOTHING
