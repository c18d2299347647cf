using System.Globalization;
using Stillwatch.Storage.Sql;

namespace Stillwatch.Storage.Recordings;

/// <summary>What people say of a recording, as columns.</summary>
internal sealed record DescriptionColumns(
    string? Patient, string? Category, string? Unit, string? Oxygen, string? SourceAveragingSeconds, string? TargetLow, string? TargetHigh, string? SettingsInForceJson, string? Note, string SearchText)
{
    // Fields are searched one by one: nobody looks for a line feed.
    private const char Between = '\n';

    public static DescriptionColumns Of(RecordingDescription said, string name) => new(
        StoredText.OfOptional(said.Patient), StoredText.OfOptional(said.Category), StoredText.OfOptional(said.Unit), StoredText.OfOptional(said.Oxygen),
        Text(said.SourceAveragingSeconds), Text(said.TargetLow), Text(said.TargetHigh), StoredText.OfOptional(said.SettingsInForceJson), StoredText.OfOptional(said.Note),
        SearchTextOf(string.Join(Between, name, said.Patient, said.Unit, said.Note)));

    public static RecordingDescription Back(RecordingRow row) => new()
    {
        Patient = StoredText.BackOptional(row.Patient),
        Category = StoredText.BackOptional(row.Category),
        Unit = StoredText.BackOptional(row.Unit),
        Oxygen = StoredText.BackOptional(row.Oxygen),
        SourceAveragingSeconds = Number(row.SourceAveragingSeconds),
        TargetLow = Number(row.TargetLow),
        TargetHigh = Number(row.TargetHigh),
        SettingsInForceJson = StoredText.BackOptional(row.SettingsInForceJson),
        Note = StoredText.BackOptional(row.Note),
    };

    /// <summary>Text in capitals: the databases do not agree on letters beyond A to Z, so that they are not asked.</summary>
    public static string SearchTextOf(string text) => StoredText.Of(text.ToUpperInvariant());

    /// <summary>A pattern for LIKE that finds the text anywhere, its own signs escaped by an exclamation mark.</summary>
    public static string PatternOf(string text) =>
        "%" + SearchTextOf(text).Replace("!", "!!", StringComparison.Ordinal).Replace("%", "!%", StringComparison.Ordinal).Replace("_", "!_", StringComparison.Ordinal) + "%";

    private static string? Text(decimal? number) => number?.ToString(CultureInfo.InvariantCulture);

    private static decimal? Number(string? text) => text is null ? null : decimal.Parse(text, NumberStyles.Number, CultureInfo.InvariantCulture);
}
