INSERT INTO photos (record, position, sha256, bytes, media_type)
VALUES (:record, :position, :sha256, :bytes, :media_type)
