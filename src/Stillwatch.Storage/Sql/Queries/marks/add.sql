INSERT INTO review_marks (number, recording, reviewer, start_milliseconds, end_milliseconds, verdict, note, made_at, made_by)
VALUES (@Number, @Recording, @Reviewer, @StartMilliseconds, @EndMilliseconds, @Verdict, @Note, @MadeAt, @MadeBy);
