SELECT signature FROM signatures WHERE log = :log AND sequence = :size - 1
UNION ALL
SELECT signature FROM checkpoints WHERE log = :log AND size = :size
