using System.Globalization;
using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.Tests.MustCatch;

/// <summary>Definitions, events and signals as text.</summary>
internal static class MustCatchTables
{
    /// <summary>"&lt;=85/60 &lt;80/15": lines of limit and seconds.</summary>
    public static MustCatchDefinition Definition(string text) => new("table", [.. text.Split(' ').Select(Line)], "invented");

    /// <summary>"10-80": seconds.</summary>
    public static TimeSlice Slice(string text)
    {
        string[] ends = text.Split('-');
        return new TimeSlice(Time(ends[0]), Time(ends[1]));
    }

    public static SampleTime Time(string seconds) => SampleTime.FromSeconds(decimal.Parse(seconds, CultureInfo.InvariantCulture));

    /// <summary>"10-80 90-95!93-94": signals, each with its suspensions after '!'.</summary>
    public static List<ReplayedSignal> Signals(string text) => text == "none" ? [] : [.. text.Split(' ').Select(signal =>
    {
        string[] parts = signal.Split('!');
        var slice = Slice(parts[0]);
        return new ReplayedSignal(AlarmCondition.SpO2Low, slice.Start, slice.End, SignalEnding.Cleared, AlarmPriority.Medium, [.. parts.Skip(1).Select(Slice)]);
    })];

    public static string Describe(IReadOnlyList<MustCatchEvent> events) =>
        events.Count == 0 ? "none" : string.Join(" ", events.Select(e => $"{Seconds(e.Onset)}-{Seconds(e.End)}:{e.Nadir.Value:0.###}:{e.Parts.Count}"));

    public static TheoryData<string[]> Rows(string table)
    {
        var rows = new TheoryData<string[]>();
        foreach (string line in table.Split('\n', StringSplitOptions.RemoveEmptyEntries)) rows.Add(line.Split('|', StringSplitOptions.TrimEntries));
        return rows;
    }

    private static MustCatchLine Line(string text)
    {
        bool inclusive = text.StartsWith("<=", StringComparison.Ordinal);
        string[] parts = text.TrimStart('<', '=').Split('/');
        return new MustCatchLine(Percent.Of(decimal.Parse(parts[0], CultureInfo.InvariantCulture)), inclusive, Duration.FromSeconds(decimal.Parse(parts[1], CultureInfo.InvariantCulture)));
    }

    private static string Seconds(SampleTime time) => (time.Milliseconds / 1000m).ToString("0.###", CultureInfo.InvariantCulture);
}
