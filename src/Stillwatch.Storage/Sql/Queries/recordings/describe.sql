UPDATE recordings
SET patient = @Patient, category = @Category, unit = @Unit, oxygen = @Oxygen, source_averaging_seconds = @SourceAveragingSeconds,
    target_low = @TargetLow, target_high = @TargetHigh, settings_in_force_json = @SettingsInForceJson, note = @Note, search_text = @SearchText
WHERE id = @Id;
