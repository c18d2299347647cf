using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Reports.Model;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Reports.Tests.Samples;

/// <summary>The detail strip of an invented night, as wide or as near as a test wants it.</summary>
internal static class InventedStrip
{
    private static readonly RecordingSection Night = InventedReports.Adults.Recordings[0];

    public static readonly TimeSlice Whole = new(Night.SpO2!.Start, Night.SpO2.End);

    public static StripModel Model(StripView view) => new()
    {
        Name = Night.Recording.Name,
        Start = Night.Recording.Start,
        Panels =
        [
            StripPanel.OfSeries(StripPanelKind.SpO2, "SpO2", "%", Night.SpO2!, view.Window, view.Columns),
            StripPanel.OfSeries(StripPanelKind.PulseRate, "Pulse rate", "/min", Night.PulseRate!, view.Window, view.Columns),
            Drawn(StripPanelKind.Perfusion, "Perfusion", "%", view, 1000, t => 1.4 + 0.6 * Math.Sin(t / 900)),
            Drawn(StripPanelKind.Quality, "Quality", "", view, 1000, t => t % 3000 < 200 ? 0.4 : 0.9),
            Drawn(StripPanelKind.InhaledOxygen, "Inhaled O2", "%", view, 60_000, t => t > 3600 ? 28 : 21),
            Drawn(StripPanelKind.Pleth, "Pleth", "", view, 8, t => Math.Sin(t * 7) + 0.4 * Math.Sin(t * 14 + 1)),
        ],
        Gaps =
        [
            new StripGap(new TimeSlice(At(1800), At(2100)), "sensor off"),
            new StripGap(new TimeSlice(At(5000), At(5300)), "doubted jump", HadNumbers: true),
        ],
        Limits =
        [
            new StripLimit(StripPanelKind.SpO2, 90, "low limit"), new StripLimit(StripPanelKind.SpO2, 85, "backstop"),
            new StripLimit(StripPanelKind.SpO2, 88, "candidate A", true), new StripLimit(StripPanelKind.PulseRate, 120, "high limit"),
        ],
        Lanes =
        [
            new StripLane("Monitor’s log", [new StripSignal(new TimeSlice(At(700), At(700)), "SpO2 LOW", null, false), new StripSignal(new TimeSlice(At(4000), At(4100)), "PROBE OFF", AlarmPriority.Low, true)]),
            new StripLane("Present settings", [.. Night.PresentSignals!.Select(StripSignal.Of)]),
            new StripLane("Candidate A", [.. Night.PresentSignals!.Where((_, i) => i % 4 == 0).Select(StripSignal.Of)]),
        ],
        Events =
        [
            .. Night.Review!.Events!.Select(e => new StripEvent(new TimeSlice(e.Start, e.End), "", "a fall", false)),
            .. Night.MustCatch.Select((m, i) => new StripEvent(new TimeSlice(m.Event.Onset, m.Event.End), $"{i + 1}", $"Must-catch event {i + 1}", true, m.Present?.Verdict)),
        ],
        Marks =
        [
            new ReviewMark("Reviewer One", new TimeSlice(At(1200), At(1260)), MarkVerdict.RealAndSignificant), new ReviewMark("Reviewer One", new TimeSlice(At(3100), At(3100)), MarkVerdict.Artefact, "sensor knocked"),
            new ReviewMark("Reviewer Two", new TimeSlice(At(1200), At(1230)), MarkVerdict.RealButNotSignificant), new ReviewMark("Reviewer Two", new TimeSlice(At(3100), At(3100)), MarkVerdict.CannotTell),
        ],
    };

    public static SampleTime At(long seconds) => Whole.Start + new Duration(seconds * 1000);

    private static StripPanel Drawn(StripPanelKind kind, string label, string unit, StripView view, long periodMilliseconds, Func<double, double> value)
    {
        long count = Math.Min(400_000, Whole.Length.Milliseconds / periodMilliseconds);
        var column = ValueColumn.Of(Enumerable.Range(0, (int)count).Select(i => (decimal?)Math.Round((decimal)value(i * periodMilliseconds / 1000.0), 4)));
        return StripPanel.OfChannel(kind, new Channel(label, ChannelKind.Other, unit, TimeAxis.Even(Whole.Start, new Duration(periodMilliseconds), column.Count), column), view.Window, view.Columns);
    }
}
