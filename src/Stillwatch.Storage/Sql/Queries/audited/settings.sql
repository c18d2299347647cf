SELECT a.number AS line, a.at AS line_at, a.by_actor AS line_by, a.subject AS subject, a.detail_json AS detail_json, s.number AS there,
    s.scope AS "scope", s.category AS "Category", s.unit AS "Unit", s.patient AS "Patient", s.name AS "Name", s.previous_settings_json AS "from", s.settings_json AS "to",
    s.why AS "Why", s.accepted_by AS "AcceptedBy", s.valid_until AS "ValidUntil", s.evidence_json AS "EvidenceJson", s.written_at AS "at", s.written_by AS "by"
FROM audit a LEFT JOIN settings_history s ON s.number = a.number
WHERE a.action = 'settings.accepted'
ORDER BY a.number;
