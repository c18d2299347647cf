INSERT INTO attachments (recording, number, role, name, sha256, content) VALUES (@Recording, @Number, @Role, @Name, @Sha256, @Content);
