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
    // subject | frames a second: 1, 8 and 9 have bunched times, about every seventh row
    [Theory]
    [InlineData(1, 29)]
    [InlineData(2, 30)]
    [InlineData(3, 30)]
    [InlineData(4, 30)]
    [InlineData(5, 30)]
    [InlineData(6, 30)]
    [InlineData(7, 30)]
    [InlineData(8, 29)]
    [InlineData(9, 29)]
    [InlineData(10, 30)]
    [InlineData(11, 30)]
    public void Frames_of_a_phone_camera_are_resampled_at_their_usual_rate(int subject, int rate)
    {
        var (times, values) = Read($"camera-ppg-with-rr/subject_{subject:00}/PPG.csv", timeColumn: 0, valueColumn: 1);
        var frames = new FrameCollector();
        var summary = LightFeed.Of(new Channel("R", ChannelKind.Other, "", times, values)).Run(frames);
        output.WriteLine($"subject {subject}: {summary.Grid}, {summary.Rate}, jitter {summary.GreatestJitterSeconds}, {times.Count} rows, {summary.Samples} samples, missing {summary.MissingSamples}, joined {summary.JoinedRows}, {summary.Resampling}");
        Assert.Equal(rate, summary.Rate.Hertz);
        Assert.Equal(FeedGrid.Resampled, summary.Grid);
        Assert.InRange(summary.MissingSamples, 0, summary.Samples / 50);
        Assert.InRange(summary.Samples, times.Span.Seconds * rate - 3, times.Span.Seconds * rate + 3);
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

    /// <summary>
    /// BIDMC record 01 (PhysioNet, doi 10.13026/C2208R) writes its times in five digits: from 100 s on in hundredths, a fifth of them twice. A reader that passes over repeated
    /// times leaves 100 rows a second, 2 to 6 ms from where they were; told the rate instead, nothing is lost.
    /// </summary>
    [Fact]
    public void Times_that_repeat_cost_a_resampling_that_is_stated()
    {
        var times = new TimeAxis.Builder();
        var values = new ValueColumn.Builder();
        foreach (string line in File.ReadLines(OpenRecordings.Path("icu-plethysmogram/bidmc_01_Signals.csv")).Skip(1))
        {
            string[] cells = line.Split(',');
            long time = (long)Math.Round(1000 * decimal.Parse(cells[0], CultureInfo.InvariantCulture));
            if (times.Count > 0 && time <= times.LastMilliseconds) continue;
            times.Add(time);
            values.Add(FixedPoint.ToMicro(decimal.Parse(cells[2], CultureInfo.InvariantCulture)));
        }

        var summary = LightFeed.Of(new Channel("PLETH", ChannelKind.Pleth, "", times.Build(), values.Build())).Run(new FrameCollector());
        output.WriteLine($"{values.Count} rows, {summary}");
        Assert.Equal(FeedGrid.Resampled, summary.Grid);
        Assert.InRange(summary.Rate.Hertz, 100, 125);
        Assert.InRange(summary.Resampling!.RelativeError, 0.001, 0.1);
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
