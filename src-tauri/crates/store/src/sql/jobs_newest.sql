SELECT row FROM jobs WHERE row < :before ORDER BY row DESC LIMIT :limit
