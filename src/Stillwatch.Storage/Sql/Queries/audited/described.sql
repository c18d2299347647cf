-- The last line that says what people say of a recording, and what stands there. An import says it too, but for stores of early programs.
WITH last AS (
    SELECT subject, MAX(number) AS number FROM audit WHERE action IN ('recording.imported', 'recording.described') GROUP BY subject
)
SELECT a.number AS line, a.at AS line_at, a.by_actor AS line_by, a.subject AS subject, a.detail_json AS detail_json, r.id AS there,
    r.patient AS "to.Patient", r.category AS "to.Category", r.unit AS "to.Unit", r.oxygen AS "to.Oxygen", r.source_averaging_seconds AS "to.SourceAveragingSeconds",
    r.target_low AS "to.TargetLow", r.target_high AS "to.TargetHigh", r.settings_in_force_json AS "to.SettingsInForceJson", r.note AS "to.Note"
FROM last JOIN audit a ON a.number = last.number JOIN recordings r ON r.id = a.subject
ORDER BY a.number;
