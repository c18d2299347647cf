INSERT INTO reports (number, kind, title, media_type, sha256, made_at, made_by, content)
VALUES (@Number, @Kind, @Title, @MediaType, @Sha256, @MadeAt, @MadeBy, @Content);
