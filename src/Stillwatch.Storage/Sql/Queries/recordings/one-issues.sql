SELECT recording, number, severity, code, place, found, expected, assumed, alike_count
FROM read_issues
WHERE recording = @Id
ORDER BY number;
