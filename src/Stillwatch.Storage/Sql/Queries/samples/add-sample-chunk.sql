INSERT INTO sample_chunks (recording, channel, level, chunk, row_count, first_milliseconds, last_milliseconds, checksum, content)
VALUES (@Recording, @Owner, @Level, @Chunk, @RowCount, @FirstMilliseconds, @LastMilliseconds, @Checksum, @Content);
