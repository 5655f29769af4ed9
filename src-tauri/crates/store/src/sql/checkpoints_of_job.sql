SELECT logs.device, checkpoints.size, checkpoints.text, checkpoints.signature, checkpoints.note
FROM logs
JOIN checkpoints ON checkpoints.log = logs.log
WHERE logs.job = :job
ORDER BY logs.device, checkpoints.size
