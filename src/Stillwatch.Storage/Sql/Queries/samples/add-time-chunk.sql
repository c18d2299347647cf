INSERT INTO time_chunks (recording, axis, chunk, row_count, first_milliseconds, last_milliseconds, checksum, content)
VALUES (@Recording, @Owner, @Chunk, @RowCount, @FirstMilliseconds, @LastMilliseconds, @Checksum, @Content);
