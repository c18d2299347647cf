SELECT number, recording, reviewer, start_milliseconds, end_milliseconds, verdict, note, made_at, made_by, withdrawn_at, withdrawn_by
FROM review_marks WHERE recording = @Recording ORDER BY number;
