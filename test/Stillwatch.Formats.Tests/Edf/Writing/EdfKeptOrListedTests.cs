using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>What a reader would give back otherwise is refused or listed; what can come back does.</summary>
public sealed class EdfKeptOrListedTests
{
    [Fact]
    public void Judged_values_of_more_than_a_thousand_a_second_are_refused()
    {
        var fast = Written.SpO2(TimeAxis.Even(default, SampleRate.Of(2000, 1000), 3), 97, 96, 95);
        Assert.Throws<UnwritableRecordingException>(() => Written.Edf(Written.Of(fast)));
    }

    [Fact]
    public void A_source_that_is_known_not_to_average_comes_back_as_such()
    {
        var recording = Written.Of(Written.SpO2(97, 96)) with { SourceAveraging = new SourceAveraging(Duration.Zero) };
        Assert.Equal(recording.SourceAveraging, Tests.Writing.RoundTrip.Of(new EdfRecordingWriter(), recording).Recording!.SourceAveraging);
    }

    [Fact]
    public void A_unit_that_comes_back_otherwise_is_listed()
    {
        var valid = new Channel("Valid", ChannelKind.SourceValid, "a.u.", TimeAxis.Even(default, new Duration(1000), 2), ValueColumn.Of([1, 0]));
        Assert.Contains(Written.Edf(Written.Of(valid)).Issues, i => i.Code == WriteIssueCodes.Unit);
    }
}
