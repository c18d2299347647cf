using Stillwatch.App.Workbench.Review;
using Stillwatch.Time;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>"What happened at 03:10?" in a recording of several nights, or of no known clock.</summary>
public sealed class ClockFinderTests
{
    private static readonly RecordingStart AtTen = new RecordingStart.Local(new DateTime(2026, 3, 2, 22, 0, 0, DateTimeKind.Unspecified));
    private static readonly TimeSlice Hours60 = new(default, new SampleTime(60 * 3_600_000L));

    // What it shows | typed | where the reader is, in hours | hours found
    [Theory]
    [InlineData("the next time of that name", "03:10", 0, 5.1667)]
    [InlineData("one digit will do", "3:10", 0, 5.1667)]
    [InlineData("seconds too", "22:00:36", 0, 0.01)]
    [InlineData("behind the reader, the next night", "03:10", 6, 29.1667)]
    [InlineData("where none comes any more, the first", "03:10", 55, 5.1667)]
    [InlineData("the very start, asked from behind it, comes again a day later", "22:00", 1, 24)]
    [InlineData("since the start", "+5:30", 40, 5.5)]
    public void A_clock_time_is_found(string shows, string typed, double from, double expected)
    {
        var found = ClockFinder.Find(typed, AtTen, Hours60, new SampleTime((long)(from * 3_600_000)), out string whyNot);
        Assert.True(found is { } time && Math.Abs(time.Milliseconds / 3_600_000.0 - expected) < 0.001, $"{shows}: {found} {whyNot}");
    }

    [Theory]
    [InlineData("25:00", "such as 03:10")]
    [InlineData("3:70", "such as 03:10")]
    [InlineData("three", "such as 03:10")]
    [InlineData("", "such as 03:10")]
    [InlineData("-3:10", "such as 03:10")]
    [InlineData("+99:00", "does not reach there")]
    public void What_is_no_time_of_the_recording_is_said(string typed, string expected)
    {
        Assert.Null(ClockFinder.Find(typed, AtTen, Hours60, default, out string whyNot));
        Assert.Contains(expected, whyNot, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_clock_only_the_time_since_the_start_can_be_asked_for()
    {
        Assert.Null(ClockFinder.Find("03:10", new RecordingStart.Unknown(), Hours60, default, out string whyNot));
        Assert.Contains("no clock is known", whyNot, StringComparison.Ordinal);
        Assert.Equal(new SampleTime(90_000), ClockFinder.Find("+0:01:30", new RecordingStart.Unknown(), Hours60, default, out _));
    }
}
