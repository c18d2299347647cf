using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Tests.Wording;

public sealed class ClockTests
{
    private static readonly SampleTime ThreeHoursIn = SampleTime.FromSeconds(3 * 3600 + 5);

    [Fact]
    public void An_unknown_start_shows_elapsed_time_and_no_midnight()
    {
        var clock = new Clock(new RecordingStart.Unknown());
        Assert.Equal("+3:00:05", clock.At(ThreeHoursIn));
        Assert.Null(clock.DayAt(ThreeHoursIn));
        Assert.Contains("not known", clock.Caption);
    }

    [Fact]
    public void A_time_of_day_runs_past_midnight_without_a_date()
    {
        var clock = new Clock(new RecordingStart.TimeOfDay(new TimeOnly(22, 30)));
        Assert.Equal("01:30:05", clock.WithDayAt(ThreeHoursIn));
        Assert.Contains("date is not known", clock.Caption);
    }

    [Fact]
    public void A_local_time_has_its_date_and_says_that_the_zone_is_missing()
    {
        var clock = new Clock(new RecordingStart.Local(new DateTime(2026, 3, 2, 22, 30, 0, DateTimeKind.Unspecified)));
        Assert.Equal("Tue 3 Mar 01:30:05", clock.WithDayAt(ThreeHoursIn));
        Assert.Contains("does not give its time zone", clock.Caption);
    }

    [Fact]
    public void A_zoned_time_says_its_offset() =>
        Assert.Equal("clock time, UTC+01:00", new Clock(new RecordingStart.Zoned(new DateTimeOffset(2026, 3, 2, 22, 30, 0, TimeSpan.FromHours(1)))).Caption);

    [Theory]
    [InlineData(long.MaxValue / 4)]
    [InlineData(long.MinValue / 4)]
    public void Times_beyond_any_calendar_are_shown_as_elapsed(long milliseconds)
    {
        var clock = new Clock(new RecordingStart.Local(new DateTime(2026, 3, 2, 0, 0, 0, DateTimeKind.Unspecified)));
        Assert.StartsWith("+", clock.At(new SampleTime(milliseconds)));
        Assert.Null(clock.DayAt(new SampleTime(milliseconds)));
    }
}
