SELECT recording, 0 AS owner, 0 AS level, chunk, row_count, 0 AS first_milliseconds, 0 AS last_milliseconds, checksum, content
FROM annotation_chunks WHERE recording = @Recording ORDER BY chunk;
