SELECT recording, axis AS owner, 0 AS level, chunk, row_count, first_milliseconds, last_milliseconds, checksum, content
FROM time_chunks WHERE recording = @Recording AND axis = @Owner AND chunk = @Chunk;
