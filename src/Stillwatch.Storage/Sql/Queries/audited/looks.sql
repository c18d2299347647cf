SELECT a.number AS line, a.at AS line_at, a.by_actor AS line_by, a.subject AS subject, a.detail_json AS detail_json, b.number AS there,
    b.recording AS "recording", b.reviewer AS "reviewer", b.start_milliseconds AS "startMilliseconds", b.end_milliseconds AS "endMilliseconds",
    b.looked_at AS "at", b.looked_by AS "by"
FROM audit a LEFT JOIN blind_looks b ON b.number = a.number
WHERE a.action = 'blindlook.made'
ORDER BY a.number;
