-- The last import of every recording that was not removed after it, and that recording.
WITH last AS (
    SELECT subject, action, MAX(number) AS number FROM audit WHERE action IN ('recording.imported', 'recording.removed') GROUP BY subject, action
)
SELECT a.number AS line, a.at AS line_at, a.by_actor AS line_by, a.subject AS subject, a.detail_json AS detail_json, r.id AS there,
    r.name AS "name", r.format AS "format", r.digest AS "digest", r.imported_by AS "by",
    (SELECT STRING_AGG(t.sha256, ' ' ORDER BY t.number) FROM attachments t WHERE t.recording = r.id) AS "attached"
FROM last JOIN audit a ON a.number = last.number LEFT JOIN recordings r ON r.id = a.subject
WHERE a.action = 'recording.imported'
    AND NOT EXISTS (SELECT 1 FROM last gone WHERE gone.subject = a.subject AND gone.action = 'recording.removed' AND gone.number > a.number)
ORDER BY a.number;
