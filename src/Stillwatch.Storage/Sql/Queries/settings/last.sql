SELECT number, scope, category, unit, patient, name, settings_json, previous_settings_json, why, accepted_by, valid_until, evidence_json, written_at, written_by
FROM settings_history
WHERE scope = @Scope AND category = @Category AND unit IS NOT DISTINCT FROM @Unit AND patient IS NOT DISTINCT FROM @Patient
ORDER BY number DESC LIMIT 1;
