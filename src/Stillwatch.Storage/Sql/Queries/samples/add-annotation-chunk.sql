INSERT INTO annotation_chunks (recording, chunk, row_count, checksum, content) VALUES (@Recording, @Chunk, @RowCount, @Checksum, @Content);
