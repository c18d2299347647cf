using System.Globalization;
using Stillwatch.Oximetry.Feed;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Feed;

/// <summary>
/// Open recordings as they come: a phone camera's uneven frames (Neshitov et al., Sensors 2021;21:6798, CC0) and frames without times
/// (Hoffman et al., npj Digit Med 2022;5:146).
/// </summary>
public sealed class OpenRecordingFeedTests(ITestOutputHelper output)
{
    // subject | frames a second | most resampling error, over the pulse (own measurement, rounded up: it holds where it is)
    [Theory]
    [InlineData(1)]
    [InlineData(2)]
    [InlineData(3)]
    [InlineData(4)]
    [InlineData(5)]
    [InlineData(6)]
    [InlineData(7)]
    [InlineData(8)]
    [InlineData(9)]
    [InlineData(10)]
    [InlineData(11)]
    public void Frames_of_a_phone_camera_are_resampled_at_thirty_a_second(int subject)
    {
        var (times, values) = Read($"camera-ppg-with-rr/subject_{subject:00}/PPG.csv", timeColumn: 0, valueColumn: 1);
        var frames = new FrameCollector();
        var summary = LightFeed.Of(new Channel("R", ChannelKind.Other, "", times, values)).Run(frames);
        output.WriteLine($"subject {subject}: {summary.Grid}, {summary.Rate}, jitter {summary.GreatestJitterSeconds}, {times.Count} rows, {summary.Samples} samples, missing {summary.MissingSamples}, joined {summary.JoinedRows}, {summary.Resampling}");
        Assert.Equal(30, summary.Rate.Hertz);
        Assert.Equal(FeedGrid.Resampled, summary.Grid);
        Assert.InRange(summary.MissingSamples, 0, summary.Samples / 50);
        Assert.InRange(summary.Samples, times.Span.Seconds * 30 - 3, times.Span.Seconds * 30 + 3);
        Assert.InRange(summary.Resampling!.RelativeError, 0, 1);
        Assert.InRange(summary.Resampling.GreatestStepSeconds, 0.033, 0.137);
    }

    [Fact]
    public void Frames_without_times_are_even_at_the_period_that_was_told()
    {
        var (_, values) = Read("controlled-desaturation/camera/100001-left.csv", timeColumn: -1, valueColumn: 0);
        var times = TimeAxis.Even(default, SampleRate.Of(30, 1000), values.Count);
        var summary = LightFeed.Of(new Channel("R", ChannelKind.Other, "", times, values)).Run(new FrameCollector());
        Assert.Equal((FeedGrid.Even, values.Count, 0L), (summary.Grid, (int)summary.Samples, summary.MissingSamples));
    }

    private static (TimeAxis Times, ValueColumn Values) Read(string file, int timeColumn, int valueColumn)
    {
        var times = new TimeAxis.Builder();
        var values = new ValueColumn.Builder();
        foreach (string line in File.ReadLines(OpenRecordings.Path(file)).Skip(1))
        {
            string[] cells = line.Split(',');
            if (cells.Length <= valueColumn || !decimal.TryParse(cells[valueColumn], CultureInfo.InvariantCulture, out decimal value)) continue;
            if (timeColumn >= 0) times.Add(long.Parse(cells[timeColumn].Split('.')[0], CultureInfo.InvariantCulture));
            values.Add(FixedPoint.ToMicro(value));
        }

        return (times.Build(), values.Build());
    }
}
