SELECT recording, number, axis, label, kind, unit, holds, calibration_origin, calibration_offset, calibration_numerator, calibration_denominator, entry_milliseconds, levels
FROM channels
WHERE recording = @Id
ORDER BY number;
