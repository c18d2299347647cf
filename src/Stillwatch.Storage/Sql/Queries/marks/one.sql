SELECT number, recording, withdrawn_at FROM review_marks WHERE number = @Number;
