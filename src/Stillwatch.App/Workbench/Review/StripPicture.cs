using Stillwatch.Alarms;
using Stillwatch.App.Pages;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Reports;
using Stillwatch.Reports.Model;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.App.Workbench.Review;

/// <summary>Draws one window of a scene: judged channels from memory, waveforms from the store's pyramid, and no more than the window needs.</summary>
internal sealed class StripPicture(ReviewScene scene, IRecordingStore recordings)
{
    private const double OverviewHeight = 128;
    private const double PanelHeight = 62;
    private const double SpO2Height = 150;
    private const int MostWaves = 3;
    private const double LeastNumber = -100, GreatestNumber = 1000; // beyond stand the codes of files for "no value"

    /// <summary>The channels that a strip can show, in the order of the recording.</summary>
    public static IReadOnlyList<StoredChannel> Channels(StoredRecording stored)
    {
        var first = stored.Channels.Where(c => c.Rows > 0 && c.Kind is not (ChannelKind.Other or ChannelKind.SourceValid)).DistinctBy(c => c.Kind).ToList();
        // A recording that holds nothing of a known kind is looked at all the same.
        return first.Count > 0 ? first : [.. stored.Channels.Where(c => c.Rows > 0).Take(MostWaves)];
    }

    public async Task<string> DetailAsync(TimeSlice window, double width, string id, CancellationToken cancellation)
    {
        var channels = Channels(scene.Stored).Where(c => !scene.Hidden.Contains(c.Index)).ToList();
        double height = 60 + channels.Sum(c => c.Kind == ChannelKind.SpO2 ? SpO2Height : PanelHeight) + RowsHeight();
        var view = new StripView(window, width, height) { Selection = scene.Selection };
        var panels = new List<StripPanel>(channels.Count);
        foreach (var channel in channels) panels.Add(await PanelAsync(channel, view, cancellation));
        return Figures.Strip(Model(panels, isDetail: true), view, id);
    }

    public async Task<string> OverviewAsync(double width, TimeSlice? frame, string id, CancellationToken cancellation)
    {
        var channel = Channels(scene.Stored).OrderBy(c => c.Kind == ChannelKind.SpO2 ? 0 : 1).FirstOrDefault();
        if (channel is null || scene.Whole.Length <= Duration.Zero) return "";
        var view = new StripView(scene.Whole, width, OverviewHeight) { Frame = frame };
        return Figures.Strip(Model([await PanelAsync(channel, view, cancellation)], isDetail: false), view, id);
    }

    private double RowsHeight() => scene.HidesAlarms ? 0 : 24 * (scene.Marks.Select(m => m.Reviewer).Distinct(StringComparer.OrdinalIgnoreCase).Count() + 1) + 26 * Lanes().Sum(l => l.Signals.Any(s => s.IsTechnical) ? 2 : 1) + 20;

    private StripModel Model(IReadOnlyList<StripPanel> panels, bool isDetail)
    {
        bool showsAlarms = !scene.HidesAlarms;
        return new StripModel
        {
            Name = scene.Stored.Name,
            Start = scene.Loaded.Recording.Start,
            Panels = panels,
            Gaps = [.. scene.SpO2Lost.Select(l => Gap(l, StripPanelKind.SpO2)), .. scene.PulseLost.Select(l => Gap(l, StripPanelKind.PulseRate))],
            Limits = showsAlarms && isDetail ? [.. LimitsOf(scene.InForce?.Settings, isTried: false), .. LimitsOf(scene.Tried?.Settings.Settings, isTried: true)] : [],
            Lanes = showsAlarms && isDetail ? Lanes() : [],
            Events = showsAlarms ? Events(isDetail) : [],
            Marks = showsAlarms && isDetail ? scene.Marks : [],
        };
    }

    private List<StripLane> Lanes()
    {
        var lanes = new List<StripLane>();
        if (scene.Log is { } log) lanes.Add(new StripLane("Monitor's log", [.. log.Entries.Select(StripSignal.Of)]));
        if (scene.InForce is { } inForce) lanes.Add(new StripLane("In force, replayed", [.. inForce.Replay.Signals.Select(StripSignal.Of)]));
        if (scene.Tried is { } tried) lanes.Add(new StripLane("Tried, replayed", [.. tried.Signals.Select(StripSignal.Of)]));
        return lanes;
    }

    private List<StripEvent> Events(bool isDetail)
    {
        if (scene.Model is not { } model) return [];
        var start = scene.Loaded.Recording.Start;
        var replay = scene.Tried ?? model.Replay;
        var events = new List<StripEvent>();
        if (isDetail && model.Review.Events is { } falls)
            events.AddRange(falls.Select(e => new StripEvent(new TimeSlice(e.Start, e.End), "", $"Fall of {e.Depth.Value:0.#} % to {e.Nadir.Value:0.#} % at {start.ClockAt(e.Start)}", IsMustCatch: false)));
        events.AddRange(model.MustCatch.Select((e, i) => new StripEvent(
            new TimeSlice(e.Onset, e.End), $"{i + 1}", $"Must-catch event {i + 1} at {start.ClockAt(e.Onset)}, lowest {e.Nadir.Value:0.#} %{(replay is null ? "" : $": {Say.Answer(replay.Answers[i])}")}", IsMustCatch: true, replay?.Answers[i].Verdict)));
        return events;
    }

    private static StripGap Gap(LostStretch lost, StripPanelKind panel) => new(lost.Span, lost.Reason.InWords(), lost.HadNumbers, panel);

    private static IEnumerable<StripLimit> LimitsOf(AlarmSettings? settings, bool isTried)
    {
        if (settings is null) yield break;
        string Label(string name) => isTried ? "tried" : name;
        if (settings.SpO2Low is { } low) yield return new StripLimit(StripPanelKind.SpO2, (double)low.Limit.Value, Label("low limit"), isTried);
        if (settings.Backstop is { } backstop) yield return new StripLimit(StripPanelKind.SpO2, (double)backstop.Limit.Value, Label("backstop"), isTried);
        if (settings.SpO2High is { } high) yield return new StripLimit(StripPanelKind.SpO2, (double)high.Limit.Value, Label("high limit"), isTried);
        if (settings.PulseRateLow is { } slow) yield return new StripLimit(StripPanelKind.PulseRate, (double)slow.Limit.Value, Label("low limit"), isTried);
        if (settings.PulseRateHigh is { } fast) yield return new StripLimit(StripPanelKind.PulseRate, (double)fast.Limit.Value, Label("high limit"), isTried);
    }

    private async Task<StripPanel> PanelAsync(StoredChannel channel, StripView view, CancellationToken cancellation)
    {
        if (scene.Has(channel.Kind))
        {
            bool isSpO2 = channel.Kind == ChannelKind.SpO2;
            var series = isSpO2 ? scene.Model!.SpO2 : scene.Model!.PulseRate!;
            return StripPanel.OfSeries(isSpO2 ? StripPanelKind.SpO2 : StripPanelKind.PulseRate, isSpO2 ? "SpO2" : "Pulse rate", channel.Unit, series, view.Window, view.Columns) with { Range = RangeOf(series, isSpO2) };
        }

        var kind = KindOf(channel.Kind);
        if (!channel.Kind.MayBeCounts() && scene.Loaded.Recording.Find(channel.Kind) is { } held)
        {
            var hold = new Duration(Math.Max(3 * channel.Period.Milliseconds, 3000));
            return StripPanel.OfChannel(kind, held, view.Window, view.Columns, hold) with { Range = await WholeRangeAsync(channel, cancellation) };
        }

        var w = await recordings.WindowAsync(scene.Stored.Id, channel.Index, view.Window.Start, view.Window.End, view.Columns, cancellation);
        var span = w.To > w.From ? new TimeSlice(w.From, w.To) : view.Window;
        return new StripPanel(kind, channel.Label, channel.Unit, span, w.Least, w.Greatest, new Duration(Math.Max(1, 3 * channel.Period.Milliseconds))) { Range = await WholeRangeAsync(channel, cancellation) };
    }

    // The scale stands still while the window moves: it comes from the whole recording.
    private async Task<(double From, double To)?> WholeRangeAsync(StoredChannel channel, CancellationToken cancellation)
    {
        var whole = await recordings.WindowAsync(scene.Stored.Id, channel.Index, channel.Start, channel.End, 400, cancellation);
        float[] least = [.. whole.Least.Where(float.IsFinite).Order()], greatest = [.. whole.Greatest.Where(float.IsFinite).Order()];
        if (least.Length == 0) return null;
        // A single spike of a waveform must not press the rest into a line; what goes beyond is clipped at the edge. A number is clipped only where no bedside number can be.
        double from = least[least.Length / 50], to = greatest[greatest.Length - 1 - greatest.Length / 50];
        if (!channel.Kind.MayBeCounts() && least[0] >= LeastNumber && greatest[^1] <= GreatestNumber) (from, to) = (least[0], greatest[^1]);
        double margin = to > from ? (to - from) * 0.06 : 0.5;
        return (from - margin, to + margin);
    }

    private static (double From, double To)? RangeOf(ConditionedSeries series, bool isSpO2)
    {
        if (series.Pieces.Count == 0) return null;
        double least = series.Pieces.Min(p => p.Micro) / (double)FixedPoint.One, greatest = series.Pieces.Max(p => p.Micro) / (double)FixedPoint.One;
        return isSpO2 ? (Math.Min(80, Math.Floor((least - 1) / 5) * 5), 101) : (Math.Floor((least - 2) / 10) * 10, Math.Ceiling((greatest + 2) / 10) * 10);
    }

    private static StripPanelKind KindOf(ChannelKind kind) => kind switch
    {
        ChannelKind.SpO2 => StripPanelKind.SpO2,
        ChannelKind.PulseRate => StripPanelKind.PulseRate,
        ChannelKind.PerfusionIndex => StripPanelKind.Perfusion,
        ChannelKind.SignalQuality => StripPanelKind.Quality,
        ChannelKind.InhaledOxygen => StripPanelKind.InhaledOxygen,
        ChannelKind.Pleth or ChannelKind.RedLight or ChannelKind.InfraredLight => StripPanelKind.Pleth,
        _ => StripPanelKind.Other,
    };
}
