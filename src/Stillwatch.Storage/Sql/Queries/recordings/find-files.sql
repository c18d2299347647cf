SELECT recording, number, name, sha256, byte_count
FROM recording_files
WHERE recording IN (
    SELECT id FROM recordings WHERE
    (@Patient IS NULL OR patient = @Patient)
    AND (@Category IS NULL OR category = @Category)
    AND (@Unit IS NULL OR unit = @Unit)
    AND (@Pattern IS NULL OR search_text LIKE @Pattern ESCAPE '!'))
ORDER BY recording, number;
