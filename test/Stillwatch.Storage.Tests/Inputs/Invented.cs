using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.Storage.Tests.Inputs;

/// <summary>Small invented recordings.</summary>
internal static class Invented
{
    public static readonly Actor Nurse = new("nurse on nights");

    /// <summary>A recording of a few minutes; its name makes its identity.</summary>
    public static NewRecording Night(string name = "night 1.csv", int rows = 300, RecordingDescription? description = null) => new()
    {
        Id = RecordingId.OfIdentity(name),
        Recording = Recording(name, rows),
        Files = [new SourceFile(name, new string('a', 64), 12_345), new SourceFile(name + ".log", new string('b', 64), 67)],
        Format = "separated text",
        Issues = [new ReadIssue(IssueSeverity.Doubt, "time.repeated", "line 12, column time", "12:00:00", "a later time", "the first was kept", 3)],
        Description = description ?? RecordingDescription.Nothing,
        ExportOf = null,
        IsInvented = true,
        Attachments = [new Attachment("alarm log", "alarms.csv", [1, 2, 3, 0, 255])],
    };

    public static Recording Recording(string name, int rows)
    {
        var times = TimeAxis.Even(default, Duration.FromSeconds(1), rows);
        var spO2 = ValueColumn.Of(Enumerable.Range(0, rows).Select(i => i % 17 == 5 ? (decimal?)null : 97 - i % 11));
        var pulse = ValueColumn.Of(Enumerable.Range(0, rows).Select(i => (decimal?)(72.5m + i % 7)));
        return new Recording(
            name, new RecordingStart.Local(new DateTime(2031, 3, 4, 22, 0, 0)),
            [new Channel("SpO2", ChannelKind.SpO2, "%", times, spO2), new Channel("Pulse", ChannelKind.PulseRate, "/min", times, pulse)],
            new SourceAveraging(Duration.FromSeconds(8)), [new Annotation(SampleTime.FromSeconds(12), Duration.Zero, "turned to the left")]);
    }

    public static SampleTime At(int seconds) => SampleTime.FromSeconds(seconds);

    public static TimeSlice Span(int from, int to) => new(At(from), At(to));
}
