SELECT logs.job, logs.device, checkpoints.size, logs.shop || '/' || logs.job || '/' || logs.device AS origin,
       checkpoints.signature
FROM logs
JOIN checkpoints ON checkpoints.log = logs.log
ORDER BY logs.job, logs.device, checkpoints.size
