UPDATE time_stamp_queue
SET next_try = :next_try, last_error = :error
WHERE log = :log AND size = :size AND authority = :authority
