using Stillwatch.Oximetry;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Oximetry.Derived;

/// <summary>Derived numbers as a recording, by hand: what is refused has no number, and what is given is rounded once.</summary>
public sealed class DerivedNumericsTests
{
    private static readonly Recording Source = new("by-hand", new RecordingStart.Unknown(), [], SourceAveraging.Unknown, [new Annotation(default, Duration.Zero, "of the source")]);

    [Fact]
    public void Each_second_is_a_row_and_a_refused_number_is_none()
    {
        var recording = DerivedNumerics.Of(Source, By([Given(96.004, 71.996), Refused(LightState.Motion), Given(95.126, 72)]));
        var spO2 = recording.Find(ChannelKind.SpO2)!;
        Assert.Equal([96_000_000, ValueColumn.Missing, 95_130_000], Values(spO2));
        Assert.Equal([72_000_000, ValueColumn.Missing, 72_000_000], Values(recording.Find(ChannelKind.PulseRate)!));
        Assert.Equal([0, 6_000_000, 0], Values(recording.Channels.Single(c => c.Label == DerivedNumerics.State)));
        Assert.Equal([2500, 3500, 4500], Enumerable.Range(0, 3).Select(i => (int)spO2.Times.TimeAt(i).Milliseconds));
        Assert.Equal(new SourceAveraging(Duration.FromSeconds(8)), recording.SourceAveraging);
    }

    [Fact]
    public void Every_label_and_every_note_says_derived_and_no_note_of_the_source_is_taken_along()
    {
        var recording = DerivedNumerics.Of(Source, By([Given(96, 72), Refused(LightState.SensorOff), Refused(LightState.SensorOff), Given(96, 72)]));
        Assert.All(recording.Channels, c => Assert.True(DerivedNumerics.IsLabel(c.Label) && c.Label.Length <= 16, c.Label));
        Assert.All(recording.Annotations, a => Assert.Equal((AnnotationOrigin.Derived, true), (a.Origin, a.Text.Contains(DerivedNumerics.Notice, StringComparison.Ordinal))));
        Assert.Equal(2, recording.Annotations.Count);
        Assert.Equal((3500L, 2000L, "no numbers: sensor off"), (recording.Annotations[1].Time.Milliseconds, recording.Annotations[1].Length.Milliseconds, recording.Annotations[1].Text.Split(" (")[0]));
        Assert.Contains("linear", recording.Annotations[0].Text);
        Assert.True(DerivedNumerics.IsDerived(recording));
        Assert.False(DerivedNumerics.IsDerived(Source));
    }

    [Fact]
    public void One_pleth_has_no_channel_of_SpO2_and_none_of_perfusion()
    {
        var derived = By([Given(double.NaN, 72)]);
        derived = derived with { Plan = derived.Plan with { RedLabel = null, IsLight = false } };
        var recording = DerivedNumerics.Of(Source, derived);
        Assert.Null(recording.Find(ChannelKind.SpO2));
        Assert.Null(recording.Find(ChannelKind.PerfusionIndex));
        Assert.Contains("no SpO2, for there is no red light", recording.Annotations[0].Text);
    }

    [Fact]
    public void A_summary_counts_each_second_once_and_cuts_its_share()
    {
        var seconds = Enumerable.Range(0, 2400).Select(i => i == 7 ? Refused(LightState.Flicker) : Given(90 + i % 5, 70)).ToArray();
        var summary = DerivedSummary.Of(By(seconds));
        Assert.Equal((2400, 2399, 99.9), (summary.SecondsTotal, summary.SecondsValid, summary.PercentValid));
        Assert.Equal(2400, summary.States.Sum(s => s.Seconds));
        Assert.Equal(new DerivedSummary.Spread(90, 92, 94, 2399), summary.SpO2);
        Assert.Equal((LightState.Flicker, 9500L, 10_500L), DerivedSummary.Stretches(By(seconds)) is [_, var flicker, _] ? (flicker.State, flicker.Span.Start.Milliseconds, flicker.Span.End.Milliseconds) : default);
    }

    [Fact]
    public void Without_a_second_there_is_an_empty_recording_and_no_figure()
    {
        var summary = DerivedSummary.Of(By([]));
        Assert.Equal((0, 0.0, (DerivedSummary.Spread?)null), (summary.SecondsTotal, summary.PercentValid, summary.SpO2));
        Assert.All(DerivedNumerics.Of(Source, By([])).Channels, c => Assert.Equal(0, c.Times.Count));
    }

    [Fact]
    public void Every_state_has_words_of_its_own_and_a_meaning()
    {
        Assert.Equal(LightStates.All.Count, LightStates.All.Select(s => s.InWords()).Distinct().Count());
        Assert.All(LightStates.All, s => Assert.EndsWith(".", s.Meaning(), StringComparison.Ordinal));
    }

    private static SecondReading Given(double spO2, double pulse) => new(pulse, spO2, 0.5, 1.5, 0.9, LightState.Valid);

    private static SecondReading Refused(LightState state) => new(double.NaN, double.NaN, double.NaN, double.NaN, 0.2, state);

    private static DerivedRecording By(SecondReading[] seconds) => new()
    {
        Plan = new OpticalPlan { PulseLabel = "IR", RedLabel = "R", FallsWithBlood = true, IsLight = true, Rate = SampleRate.Of(125, 1000), Candidates = [] },
        Settings = new OximetrySettings(),
        Start = new SampleTime(2500),
        Beats = [],
        Seconds = seconds,
        Breathing = [],
    };

    private static List<int> Values(Channel channel) => [.. Enumerable.Range(0, channel.Times.Count).Select(i => channel.Values[i])];
}
