using System.Globalization;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>It is always the same forenoon, so that no test depends on the day it runs; timers run as they do.</summary>
internal sealed class StandingClock : TimeProvider
{
    public static readonly DateOnly Today = new(2026, 6, 15);

    public static readonly StandingClock Instance = new();

    public override TimeZoneInfo LocalTimeZone => TimeZoneInfo.Utc;

    public override DateTimeOffset GetUtcNow() => new(Today, new TimeOnly(10, 0), TimeSpan.Zero);

    /// <summary>A day as a field of a page takes it, so many days from today.</summary>
    public static string InDays(int days) => Today.AddDays(days).ToString("yyyy-MM-dd", CultureInfo.InvariantCulture);
}
