SELECT recording, channel AS owner, level, chunk, row_count, first_milliseconds, last_milliseconds, checksum, content
FROM sample_chunks
WHERE recording = @Recording AND channel = @Owner AND level = @Level AND first_milliseconds < @ToMilliseconds AND last_milliseconds >= @FromMilliseconds
ORDER BY chunk;
