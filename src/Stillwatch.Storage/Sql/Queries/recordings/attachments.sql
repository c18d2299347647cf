SELECT role, name, sha256, content FROM attachments WHERE recording = @Recording ORDER BY number;
