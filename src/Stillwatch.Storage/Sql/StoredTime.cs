using System.Globalization;

namespace Stillwatch.Storage.Sql;

/// <summary>Times of day as text that sorts as they do: UTC, to the millisecond.</summary>
internal static class StoredTime
{
    private const string Format = "yyyy-MM-dd'T'HH:mm:ss.fff'Z'";

    public static string Of(DateTimeOffset time) => time.UtcDateTime.ToString(Format, CultureInfo.InvariantCulture);

    public static DateTimeOffset Back(string stored) => new(DateTime.ParseExact(stored, Format, CultureInfo.InvariantCulture, DateTimeStyles.AssumeUniversal | DateTimeStyles.AdjustToUniversal));

    /// <summary>The clock's time as it will come back from the store: whole milliseconds.</summary>
    public static DateTimeOffset Now(TimeProvider clock) => Back(Of(clock.GetUtcNow()));
}
