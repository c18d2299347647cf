SELECT COUNT(*) FROM review_marks WHERE recording = @Recording;
