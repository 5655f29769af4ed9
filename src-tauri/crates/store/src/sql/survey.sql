SELECT leaves.sequence, leaves.leaf, records.record, records.bytes, records.kind, records.wall
FROM leaves
LEFT JOIN records ON records.log = leaves.log AND records.sequence = leaves.sequence
WHERE leaves.log = :log
ORDER BY leaves.sequence
