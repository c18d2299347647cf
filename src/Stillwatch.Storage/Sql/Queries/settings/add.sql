INSERT INTO settings_history (number, scope, category, unit, patient, name, settings_json, previous_settings_json, why, accepted_by, valid_until, evidence_json, written_at, written_by)
VALUES (@Number, @Scope, @Category, @Unit, @Patient, @Name, @SettingsJson, @PreviousSettingsJson, @Why, @AcceptedBy, @ValidUntil, @EvidenceJson, @WrittenAt, @WrittenBy);
