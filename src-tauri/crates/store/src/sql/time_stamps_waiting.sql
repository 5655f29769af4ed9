SELECT logs.shop, logs.job, logs.device, queue.size, queue.authority, queue.attempts, queue.next_try, queue.last_error
FROM time_stamp_queue AS queue
JOIN logs ON logs.log = queue.log
ORDER BY queue.next_try, queue.log, queue.size, queue.authority
