INSERT INTO time_axes (recording, number, row_count, first_milliseconds, last_milliseconds, period_milliseconds, is_period_declared, rate_samples, rate_milliseconds)
VALUES (@Recording, @Number, @RowCount, @FirstMilliseconds, @LastMilliseconds, @PeriodMilliseconds, @IsPeriodDeclared, @RateSamples, @RateMilliseconds);
