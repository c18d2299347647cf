SELECT number, kind, title, media_type, sha256, made_at, made_by, LENGTH(content) AS byte_count FROM reports ORDER BY number DESC;
