SELECT recording, number, row_count, first_milliseconds, last_milliseconds, period_milliseconds, is_period_declared, rate_samples, rate_milliseconds
FROM time_axes
WHERE recording IN (
    SELECT id FROM recordings WHERE
    (@Patient IS NULL OR patient = @Patient)
    AND (@Category IS NULL OR category = @Category)
    AND (@Unit IS NULL OR unit = @Unit)
    AND (@Pattern IS NULL OR search_text LIKE @Pattern ESCAPE '!'))
ORDER BY recording, number;
