SELECT recording, number, severity, code, place, found, expected, assumed, alike_count
FROM read_issues
WHERE recording IN (
    SELECT id FROM recordings WHERE
    (@Patient IS NULL OR patient = @Patient)
    AND (@Category IS NULL OR category = @Category)
    AND (@Unit IS NULL OR unit = @Unit)
    AND (@Pattern IS NULL OR search_text LIKE @Pattern ESCAPE '!'))
ORDER BY recording, number;
