using Stillwatch.Alarms;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>Compares what a replay gives with what the monitor itself logged: the fidelity figure, and why they differ.</summary>
/// <remarks>
/// A replay that does not reproduce the monitor's own log speaks of another monitor than the one at the bed: of other settings,
/// another averaging, or other values than those exported. Signals are the same one where their condition is the same and their starts
/// differ by no more than the tolerance; ends are not compared, for many logs give none.
/// </remarks>
public static class FidelityComparer
{
    private const int BetterChangesNamed = 3;

    // What only the monitor itself knows: no channel of a recording shows it.
    private static readonly AlarmCondition[] KnownToTheMonitorOnly =
        [AlarmCondition.SensorOff, AlarmCondition.SensorDisconnected, AlarmCondition.Interference, AlarmCondition.SourceOnBattery, AlarmCondition.SourceBatteryLow];

    /// <param name="recording">What was replayed.</param>
    /// <param name="settings">The settings that the replay was run with.</param>
    /// <param name="replayed">What it gave, of all conditions.</param>
    /// <param name="log">What the monitor logged meanwhile.</param>
    /// <param name="options">Tolerance and offset; null: by the recording's source averaging, no offset.</param>
    public static FidelityResult Compare(Recording recording, AlarmSettings settings, IReadOnlyList<ReplayedSignal> replayed, AlarmLog log, FidelityOptions? options = null)
    {
        options ??= FidelityOptions.For(recording.SourceAveraging);
        LoggedSignal[] logged = [.. log.Signals.Select(s => s with { Start = s.Start + options.Offset })];
        var span = SpanOf(recording, log, options);
        var notComparable = NotComparableOf(recording, settings, logged, span);
        var conditions = notComparable.Select(n => n.Condition).ToHashSet();
        var matches = Enum.GetValues<AlarmCondition>().Where(c => !conditions.Contains(c) && !KnownToTheMonitorOnly.Contains(c))
            .Select(c => ConditionMatch.Of(c, [.. logged.Where(s => s.Condition == c)], [.. replayed.Where(s => s.Condition == c)], span, options.Tolerance)).ToList();
        var result = new FidelityResult
        {
            LogName = log.Name,
            Options = options,
            Span = span,
            IsSpanAssumed = log.Covers is null,
            NotComparable = notComparable,
            NotUnderstood = log.NotUnderstood,
            Outside = matches.Sum(m => m.Outside),
        };
        var starts = matches.ConvertAll(m => new StartsOfCondition(
            m.Condition,
            [.. logged.Where(s => s.Condition == m.Condition).Select(s => s.Start.Milliseconds)],
            [.. replayed.Where(s => s.Condition == m.Condition).Select(s => s.Start.Milliseconds)]));
        result = result with { Clock = ClockDifference.Estimate(starts, options.Tolerance.Milliseconds) };
        if (matches.Sum(m => m.Figure.Logged) == 0) return result with { WhyNot = WhyNot(log, result) };

        var runs = matches.Exists(m => m.Condition.IsPhysiological() && (m.Missing.Count > 0 || m.Extra.Count > 0)) ? ChangedReplays.Of(recording, settings) : [];
        TimeSlice? lines = log.Covers is null ? new TimeSlice(log.Entries[0].Start + options.Offset, log.Entries[^1].Start + options.Offset) : null;
        var kept = lines is { } l ? LogLines.Within(span, l.Start, l.End, matches, options.Tolerance) : null;
        var matchesKept = kept is { } during
            ? matches.ConvertAll(m => ConditionMatch.Of(m.Condition, [.. logged.Where(s => s.Condition == m.Condition)], [.. replayed.Where(s => s.Condition == m.Condition)], during, options.Tolerance))
            : matches;
        var reasons = new ReasonFinder(recording, settings, options, lines, result.Clock, logged, replayed, matches, runs);
        return result with
        {
            Physiological = FigureOf(matches, technical: false),
            Technical = FigureOf(matches, technical: true),
            Lines = kept is { } k ? LinesOf(lines!.Value, k, matches, matchesKept) : null,
            Conditions = [.. matches.Select(m => (m.Condition, m.Figure)).Where(m => m.Figure.Logged + m.Figure.Replayed > 0)],
            Matched = [.. matches.SelectMany(m => m.Matched).OrderBy(m => m.Logged.Start)],
            Missing = [.. matches.SelectMany(m => m.Missing.Select(s => new MissingSignal(s, reasons.WhyMissing(s)))).OrderBy(m => m.Signal.Start)],
            Extra = [.. matches.SelectMany(m => m.Extra.Select(s => new ExtraSignal(s, reasons.WhyExtra(s)))).OrderBy(e => e.Signal.Start)],
            BetterChanges = FigureOf(matchesKept, technical: false) is not { } now ? [] : BetterChanges(runs, matchesKept, logged, now, kept ?? span, options.Tolerance, result.Clock),
        };
    }

    private static LogLines LinesOf(TimeSlice lines, TimeSlice kept, List<ConditionMatch> matches, List<ConditionMatch> matchesKept)
    {
        var extras = matches.SelectMany(m => m.Extra).ToList();
        return new LogLines(lines.Start, lines.End, extras.Count(e => e.Start < kept.Start), extras.Count(e => e.Start >= kept.End), FigureOf(matchesKept, technical: false), FigureOf(matchesKept, technical: true));
    }

    private static TimeSlice SpanOf(Recording recording, AlarmLog log, FidelityOptions options)
    {
        var axes = new[] { ChannelKind.SpO2, ChannelKind.PulseRate }.Select(k => recording.Find(k)?.Times).Where(t => t is { Count: > 0 }).ToList();
        var start = axes.Count == 0 ? default : axes.Min(t => t!.First);
        var end = axes.Count == 0 ? default : axes.Max(t => t!.End);
        if (log.Covers is not { } covers) return new TimeSlice(start, end);
        var from = covers.Start + options.Offset;
        var to = covers.End + options.Offset;
        if (from > start) start = from;
        if (to < end) end = to;
        return new TimeSlice(start, end < start ? start : end);
    }

    private static List<NotComparable> NotComparableOf(Recording recording, AlarmSettings settings, LoggedSignal[] logged, TimeSlice span)
    {
        var found = new List<NotComparable>();
        foreach (var group in logged.Where(s => span.Contains(s.Start)).GroupBy(s => s.Condition!.Value).OrderBy(g => g.Key))
        {
            string? because = group.Key switch
            {
                AlarmCondition.SpO2Low or AlarmCondition.SpO2High when recording.Find(ChannelKind.SpO2) is null => "the recording has no SpO2",
                AlarmCondition.PulseRateLow or AlarmCondition.PulseRateHigh when recording.Find(ChannelKind.PulseRate) is null => "the recording has no pulse rate",
                AlarmCondition.LowPerfusion when recording.Find(ChannelKind.PerfusionIndex) is null => "the recording has no perfusion index",
                AlarmCondition.SignalInadequate when recording.Find(ChannelKind.SignalQuality) is null || settings.Technical.QualityThresholdMicro is null => "the recording has no signal quality that is judged",
                var condition when KnownToTheMonitorOnly.Contains(condition) => "only the monitor knows it: no channel of the recording shows it",
                _ => null,
            };
            if (because is not null) found.Add(new NotComparable(group.Key, group.Count(), because));
        }

        return found;
    }

    private static string WhyNot(AlarmLog log, FidelityResult result)
    {
        if (log.Entries.Count == 0) return "the log is empty: nothing shows whether the monitor was silent or the log was not kept";
        if (log.Signals.Count == 0) return $"no text of the log is understood ({log.Entries.Count} lines)";
        if (result.Outside > 0) return $"no signal of the log falls within the recording ({result.Outside} lie outside): another night, or another clock";
        return "the log holds no signal that a replay of this recording could give";
    }

    private static FidelityFigure? FigureOf(List<ConditionMatch> matches, bool technical)
    {
        var sum = FidelityFigure.Sum(matches.Where(m => m.Condition.IsPhysiological() != technical).Select(m => m.Figure));
        return sum.Logged == 0 ? null : sum;
    }

    private static List<ChangeTried> BetterChanges(
        IReadOnlyList<ChangedReplays.Run> runs, List<ConditionMatch> matches, LoggedSignal[] logged, FidelityFigure now, TimeSlice span, Duration tolerance, ClockDifference? clock)
    {
        // Where the clocks differ, a setting that merely signals more often meets more of the log by chance: it must explain as much as the clock does.
        int atLeast = clock is null ? 0 : clock.Matched - (clock.MatchedWithout - now.Matched);
        var physiological = matches.Where(m => m.Condition.IsPhysiological()).ToList();
        var tried = new List<ChangeTried>();
        foreach (var change in runs.Where(r => physiological.Exists(m => m.Condition == r.Condition)).GroupBy(r => r.Change))
        {
            var changed = change.ToDictionary(r => r.Condition, r => ConditionMatch.Of(r.Condition, [.. logged.Where(s => s.Condition == r.Condition)], r.Signals, span, tolerance).Figure);
            tried.Add(new ChangeTried(
                change.Key,
                FidelityFigure.Sum(changed.Values),
                FidelityFigure.Sum(physiological.Select(m => changed.TryGetValue(m.Condition, out var figure) ? figure : m.Figure))));
        }

        return
        [
            .. tried.Where(t => t.Physiological.Agreement > now.Agreement && t.Physiological.Matched >= atLeast)
                .OrderByDescending(t => t.Physiological.Agreement).ThenBy(t => t.Physiological.MeanDistance).ThenBy(t => t.Change.Size).ThenBy(t => t.Change.Kind).ThenBy(t => t.Condition)
                .DistinctBy(t => (t.Change.Kind, t.Condition)).Take(BetterChangesNamed),
        ];
    }
}
