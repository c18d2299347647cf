using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests.Inputs;

/// <summary>Compares two recordings down to the last row.</summary>
internal static class SameRecording
{
    public static void Assert(Recording expected, Recording found)
    {
        Xunit.Assert.Equal(expected.Name, found.Name);
        Xunit.Assert.Equal(expected.Start, found.Start);
        if (expected.Start is RecordingStart.Zoned zoned) Xunit.Assert.Equal(zoned.DateTime.Offset, ((RecordingStart.Zoned)found.Start).DateTime.Offset);
        Xunit.Assert.Equal(expected.SourceAveraging, found.SourceAveraging);
        Xunit.Assert.Equal(expected.Annotations, found.Annotations);
        Xunit.Assert.Equal(expected.Channels.Count, found.Channels.Count);
        for (int i = 0; i < expected.Channels.Count; i++)
        {
            Assert(expected.Channels[i], found.Channels[i]);
            for (int j = 0; j < i; j++) Xunit.Assert.Equal(ReferenceEquals(expected.Channels[i].Times, expected.Channels[j].Times), ReferenceEquals(found.Channels[i].Times, found.Channels[j].Times));
        }
    }

    public static void Assert(Channel expected, Channel found)
    {
        Xunit.Assert.Equal((expected.Label, expected.Kind, expected.Unit), (found.Label, found.Kind, found.Unit));
        Assert(expected.Times, found.Times);
        Xunit.Assert.Equal(expected.Counts?.Calibration, found.Counts?.Calibration);
        for (int i = 0; i < expected.Times.Count; i++)
        {
            if (SampleOf(expected, i) != SampleOf(found, i)) Xunit.Assert.Fail($"row {i} of {expected.Label}: found {SampleOf(found, i)}, expected {SampleOf(expected, i)}");
        }
    }

    public static int SampleOf(Channel channel, int row) => channel.Counts?[row] ?? channel.Values[row];

    private static void Assert(TimeAxis expected, TimeAxis found)
    {
        Xunit.Assert.Equal((expected.Count, expected.Period, expected.IsPeriodDeclared, expected.IsEven, expected.Rate), (found.Count, found.Period, found.IsPeriodDeclared, found.IsEven, found.Rate));
        for (int i = 0; i < expected.Count; i++)
        {
            if (expected.TimeAt(i) != found.TimeAt(i)) Xunit.Assert.Fail($"row {i}: found {found.TimeAt(i)}, expected {expected.TimeAt(i)}");
        }
    }
}
