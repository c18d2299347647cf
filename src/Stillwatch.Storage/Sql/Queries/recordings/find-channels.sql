SELECT recording, number, axis, label, kind, unit, holds, calibration_origin, calibration_offset, calibration_numerator, calibration_denominator, entry_milliseconds, levels
FROM channels
WHERE recording IN (
    SELECT id FROM recordings WHERE
    (@Patient IS NULL OR patient = @Patient)
    AND (@Category IS NULL OR category = @Category)
    AND (@Unit IS NULL OR unit = @Unit)
    AND (@Pattern IS NULL OR search_text LIKE @Pattern ESCAPE '!'))
ORDER BY recording, number;
