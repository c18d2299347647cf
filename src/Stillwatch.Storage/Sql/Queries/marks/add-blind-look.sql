INSERT INTO blind_looks (number, recording, reviewer, start_milliseconds, end_milliseconds, looked_at, looked_by)
VALUES (@Number, @Recording, @Reviewer, @StartMilliseconds, @EndMilliseconds, @LookedAt, @LookedBy);
