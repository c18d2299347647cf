INSERT INTO recording_files (recording, number, name, sha256, byte_count) VALUES (@Recording, @Number, @Name, @Sha256, @ByteCount);
