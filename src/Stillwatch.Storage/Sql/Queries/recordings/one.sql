SELECT id, name, start_kind, start_text, source_averaging_milliseconds, format, export_of, is_invented, annotation_count, digest, imported_at, imported_by,
    patient, category, unit, oxygen, source_averaging_seconds, target_low, target_high, settings_in_force_json, note, search_text
FROM recordings
WHERE id = @Id;
