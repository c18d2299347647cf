SELECT recording, number, row_count, first_milliseconds, last_milliseconds, period_milliseconds, is_period_declared, rate_samples, rate_milliseconds
FROM time_axes
WHERE recording = @Id
ORDER BY number;
