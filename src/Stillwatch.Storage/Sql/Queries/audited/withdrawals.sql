-- The subject of such a line is "mark" and the number of the mark.
SELECT a.number AS line, a.at AS line_at, a.by_actor AS line_by, a.subject AS subject, a.detail_json AS detail_json, m.number AS there,
    m.recording AS "recording", m.withdrawn_at AS "at", m.withdrawn_by AS "by"
FROM audit a LEFT JOIN review_marks m ON m.number = CAST(SUBSTR(a.subject, 6) AS BIGINT)
WHERE a.action = 'mark.withdrawn'
ORDER BY a.number;
