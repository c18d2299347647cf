SELECT number, scope, category, unit, patient, name, settings_json, previous_settings_json, why, accepted_by, valid_until, evidence_json, written_at, written_by
FROM settings_history ORDER BY number DESC;
