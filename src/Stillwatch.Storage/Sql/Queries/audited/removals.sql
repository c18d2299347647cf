SELECT subject, MAX(number) AS line FROM audit WHERE action = 'recording.removed' GROUP BY subject;
