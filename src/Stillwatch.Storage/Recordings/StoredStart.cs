using System.Globalization;
using Stillwatch.Time;

namespace Stillwatch.Storage.Recordings;

/// <summary>What is known of a recording's start, as two words of text: how much is known, and that.</summary>
internal static class StoredStart
{
    private const string Unknown = "unknown", TimeOfDay = "time of day", Local = "local", Zoned = "zoned";

    private const string LocalFormat = "yyyy-MM-dd'T'HH:mm:ss.fffffff";

    public static (string Kind, string Text) Of(RecordingStart start) => start switch
    {
        RecordingStart.TimeOfDay t => (TimeOfDay, t.Time.ToString("O", CultureInfo.InvariantCulture)),
        RecordingStart.Local l => (Local, l.DateTime.ToString(LocalFormat, CultureInfo.InvariantCulture)),
        RecordingStart.Zoned z => (Zoned, z.DateTime.ToString("O", CultureInfo.InvariantCulture)),
        _ => (Unknown, ""),
    };

    /// <exception cref="FormatException">The text is not what <see cref="Of"/> writes.</exception>
    public static RecordingStart Back(string kind, string text) => kind switch
    {
        TimeOfDay => new RecordingStart.TimeOfDay(TimeOnly.ParseExact(text, "O", CultureInfo.InvariantCulture)),
        Local => new RecordingStart.Local(DateTime.ParseExact(text, LocalFormat, CultureInfo.InvariantCulture)),
        Zoned => new RecordingStart.Zoned(DateTimeOffset.ParseExact(text, "O", CultureInfo.InvariantCulture, DateTimeStyles.RoundtripKind)),
        Unknown => new RecordingStart.Unknown(),
        _ => throw new FormatException($"Found the start \"{kind}\", expected one of four."),
    };
}
