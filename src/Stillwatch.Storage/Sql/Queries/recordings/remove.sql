DELETE FROM recordings WHERE id = @Id;
