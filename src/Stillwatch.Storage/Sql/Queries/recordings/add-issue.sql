INSERT INTO read_issues (recording, number, severity, code, place, found, expected, assumed, alike_count)
VALUES (@Recording, @Number, @Severity, @Code, @Place, @Found, @Expected, @Assumed, @AlikeCount);
