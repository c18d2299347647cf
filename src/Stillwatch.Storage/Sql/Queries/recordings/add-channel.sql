INSERT INTO channels (recording, number, axis, label, kind, unit, holds, calibration_origin, calibration_offset, calibration_numerator, calibration_denominator, entry_milliseconds, levels)
VALUES (@Recording, @Number, @Axis, @Label, @Kind, @Unit, @Holds, @CalibrationOrigin, @CalibrationOffset, @CalibrationNumerator, @CalibrationDenominator, @EntryMilliseconds, @Levels);
