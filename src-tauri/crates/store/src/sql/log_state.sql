SELECT log, size, last_leaf, root, frontier FROM logs WHERE shop = :shop AND job = :job AND device = :device
