SELECT a.number AS line, a.at AS line_at, a.by_actor AS line_by, a.subject AS subject, a.detail_json AS detail_json, m.number AS there,
    m.recording AS "recording", m.reviewer AS "reviewer", m.start_milliseconds AS "startMilliseconds", m.end_milliseconds AS "endMilliseconds",
    m.verdict AS "verdict", m.note AS "note", m.made_at AS "at", m.made_by AS "by"
FROM audit a LEFT JOIN review_marks m ON m.number = a.number
WHERE a.action = 'mark.made'
ORDER BY a.number;
