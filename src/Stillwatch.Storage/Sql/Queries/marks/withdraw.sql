UPDATE review_marks SET withdrawn_at = @WithdrawnAt, withdrawn_by = @WithdrawnBy WHERE number = @Number;
