SELECT a.number AS line, a.at AS line_at, a.by_actor AS line_by, a.subject AS subject, a.detail_json AS detail_json, r.number AS there,
    r.kind AS "kind", r.title AS "title", r.media_type AS "mediaType", r.sha256 AS "sha256", r.content AS "content", r.made_at AS "at", r.made_by AS "by"
FROM audit a LEFT JOIN reports r ON r.number = a.number
WHERE a.action = 'report.kept'
ORDER BY a.number;
