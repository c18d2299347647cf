INSERT INTO store_version (version, name, applied_at, program) VALUES (@Version, @Name, @AppliedAt, @Program);
