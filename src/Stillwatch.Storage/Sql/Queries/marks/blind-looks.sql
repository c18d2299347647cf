SELECT number, recording, reviewer, start_milliseconds, end_milliseconds, looked_at, looked_by
FROM blind_looks WHERE recording = @Recording ORDER BY number;
