using Stillwatch.Time;

namespace Stillwatch.Tests.Time;

public sealed class TimesTests
{
    [Theory]
    [InlineData("0.0004", 0)]
    [InlineData("0.0005", 1)]
    [InlineData("-0.0005", -1)]
    [InlineData("8.3334", 8333)]
    public void Rule_1_times_are_kept_to_a_thousandth_of_a_second(string seconds, long milliseconds)
    {
        Assert.Equal(milliseconds, SampleTime.FromSeconds(decimal.Parse(seconds)).Milliseconds);
        Assert.Equal(milliseconds, Duration.FromSeconds(decimal.Parse(seconds)).Milliseconds);
    }

    [Fact]
    public void A_slice_holds_its_start_and_not_its_end()
    {
        var slice = new TimeSlice(new SampleTime(10), new SampleTime(20));
        Assert.True(slice.Contains(new SampleTime(10)));
        Assert.False(slice.Contains(new SampleTime(20)));
        Assert.False(slice.Overlaps(new TimeSlice(new SampleTime(20), new SampleTime(30))));
        Assert.True(slice.Overlaps(new TimeSlice(new SampleTime(19), new SampleTime(30))));
    }

    [Fact]
    public void A_start_says_no_more_than_is_known()
    {
        var later = new SampleTime(3_600_000);
        Assert.Equal("+1:00:00", new RecordingStart.Unknown().ClockAt(later));
        Assert.Equal("00:30:00", new RecordingStart.TimeOfDay(new TimeOnly(23, 30)).ClockAt(later));
        Assert.Equal("unknown", new RecordingStart.Unknown().ToString());
        Assert.EndsWith("date unknown", new RecordingStart.TimeOfDay(new TimeOnly(23, 30)).ToString());
        Assert.EndsWith("zone unknown", new RecordingStart.Local(new DateTime(2026, 1, 2, 3, 4, 5)).ToString());
        Assert.False(new RecordingStart.Unknown().IsKnown);
    }
}
