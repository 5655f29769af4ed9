INSERT INTO logs (shop, job, device, size, last_leaf, root, frontier)
VALUES (:shop, :job, :device, :size, :last_leaf, :root, :frontier)
ON CONFLICT (job, device, shop) DO UPDATE
SET size = excluded.size, last_leaf = excluded.last_leaf, root = excluded.root, frontier = excluded.frontier
RETURNING log
