SELECT recording, number, name, sha256, byte_count
FROM recording_files
WHERE recording = @Id
ORDER BY number;
