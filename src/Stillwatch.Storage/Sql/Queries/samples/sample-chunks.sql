SELECT recording, channel AS owner, level, chunk, row_count, first_milliseconds, last_milliseconds, checksum, content
FROM sample_chunks WHERE recording = @Recording AND channel = @Owner AND level = 0 ORDER BY chunk;
