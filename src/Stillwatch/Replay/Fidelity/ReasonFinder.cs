using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>Finds what accounts for the signals without a pair.</summary>
internal sealed class ReasonFinder
{
    private const string CannotBeKnown =
        "nothing that was tried accounts for it: the monitor may have been paused, its alarm acknowledged or switched off, or the log is not complete; the file cannot tell";

    // Farther apart than this, two signals are hardly the same one. Unit policy, no source.
    private static readonly Duration Nearby = new(120_000);

    private readonly AlarmSettings settings;
    private readonly Duration tolerance;
    private readonly TimeSlice? lines;
    private readonly Duration? clock;
    private readonly Dictionary<AlarmCondition, Sides> sides = [];
    private readonly ILookup<AlarmCondition, ChangedReplays.Run> runs;
    private readonly Dictionary<ChangedReplays.Run, Starts> runStarts;
    private readonly ConditionedSeries? spO2;
    private readonly ConditionedSeries? pulseRate;

    /// <param name="recording">What was replayed.</param>
    /// <param name="settings">With what.</param>
    /// <param name="options">How it was compared.</param>
    /// <param name="lines">From the first line of the log to its last; null where the log says from when to when it was kept.</param>
    /// <param name="clock">The difference of clocks that explains the starts; null: none.</param>
    /// <param name="logged">By start, on the recording's line.</param>
    /// <param name="replayed">By start.</param>
    /// <param name="matches">Of each condition that can be compared.</param>
    /// <param name="runs">The replay with one setting changed.</param>
    public ReasonFinder(
        Recording recording, AlarmSettings settings, FidelityOptions options, TimeSlice? lines, ClockDifference? clock, LoggedSignal[] logged, IReadOnlyList<ReplayedSignal> replayed,
        List<ConditionMatch> matches, IReadOnlyList<ChangedReplays.Run> runs)
    {
        this.settings = settings;
        this.lines = lines;
        this.clock = clock?.Offset;
        tolerance = options.Tolerance;
        this.runs = runs.ToLookup(r => r.Condition);
        runStarts = runs.ToDictionary(r => r, r => new Starts(r.Signals.Select(s => s.Start)));
        var loggedOf = logged.ToLookup(s => s.Condition!.Value);
        var replayedOf = replayed.ToLookup(s => s.Condition);
        var matchOf = matches.ToDictionary(m => m.Condition);
        foreach (var condition in Enum.GetValues<AlarmCondition>())
            sides[condition] = new Sides([.. loggedOf[condition]], [.. replayedOf[condition]], matchOf.GetValueOrDefault(condition));
        int? threshold = settings.Technical.QualityThresholdMicro;
        if (ConditionedSource.SpO2Of(recording, threshold) is { } saturation) spO2 = ConditionedSeries.Of(saturation, settings.SpO2Conditioning);
        if (ConditionedSource.PulseRateOf(recording, threshold) is { } pulse) pulseRate = ConditionedSeries.Of(pulse, settings.PulseConditioning);
    }

    public IReadOnlyList<LikelyReason> WhyMissing(LoggedSignal signal)
    {
        var condition = signal.Condition!.Value;
        var reasons = new List<LikelyReason>();
        FromClock(sides[condition].Replayed, signal.Start, isLogged: true, reasons);
        if (sides[condition].ReplayedOver(signal.Start) is { } since)
            reasons.Add(new LikelyReason(ReasonKind.PartOfOther, $"it begins inside a replayed signal that started {LikelyReason.Apart(since - signal.Start)}: the log counts again what is counted once here, or the monitor clears and starts anew"));
        else if (condition.IsPhysiological()) FromValues(condition, signal, reasons);
        if (sides[condition].Extra.Nearest(signal.Start, Nearby) is { } apart)
            reasons.Add(new LikelyReason(ReasonKind.OutsideTolerance, $"a replayed signal without a pair starts {LikelyReason.Apart(apart)}"));
        reasons.AddRange(Changes(condition, run => runStarts[run].AnyWithin(signal.Start - tolerance, signal.Start + tolerance), "it would be signalled here with"));
        foreach (var other in Others(condition, s => s.Replayed, signal.Start))
            reasons.Add(new LikelyReason(ReasonKind.NamedOtherwise, $"the replay has {other.InWords()} at this time"));
        if (reasons.Count == 0) reasons.Add(new LikelyReason(ReasonKind.Unexplained, "nothing that was tried accounts for it: settings, averaging or values other than those given"));
        return reasons;
    }

    public IReadOnlyList<LikelyReason> WhyExtra(ReplayedSignal signal)
    {
        var condition = signal.Condition;
        var own = sides[condition];
        var reasons = new List<LikelyReason>();
        FromClock(own.Logged, signal.Start, isLogged: false, reasons);
        if (own.Logged.Count == 0) reasons.Add(new LikelyReason(ReasonKind.NotInLog, "the log names this condition nowhere: the monitor may not signal it, or the list leaves it out"));
        if (own.LoggedOver(signal.Start) is { } since)
            reasons.Add(new LikelyReason(ReasonKind.PartOfOther, $"it begins inside a logged signal that started {LikelyReason.Apart(since - signal.Start)}: the monitor holds its signal longer (a clear margin, or latching)"));
        if (own.Missing.Nearest(signal.Start, Nearby) is { } apart)
            reasons.Add(new LikelyReason(ReasonKind.OutsideTolerance, $"a logged signal without a pair starts {LikelyReason.Apart(apart)}"));
        foreach (var other in Others(condition, s => s.Logged, signal.Start))
            reasons.Add(new LikelyReason(ReasonKind.NamedOtherwise, $"the log has {other.InWords()} at this time"));
        if (own.Logged.Count > 0) reasons.AddRange(Changes(condition, run => !Overlaps(run, signal), "it would not be there with"));
        if (lines is { } log && (signal.Start < log.Start - tolerance || signal.Start > log.End + tolerance))
        {
            bool isFar = LogLines.IsFarBefore(signal.Start, log.Start) || LogLines.IsFarAfter(signal.Start, log.End);
            reasons.Insert(isFar ? 0 : reasons.Count, new LikelyReason(ReasonKind.BeyondLog, signal.Start < log.Start ? "it lies before the log's first line: the log may not have been kept yet" : "it lies after the log's last line: the log may no longer have been kept"));
        }

        if (reasons.Count == 0) reasons.Add(new LikelyReason(ReasonKind.Unexplained, CannotBeKnown));
        return reasons;
    }

    private void FromClock(Starts others, SampleTime start, bool isLogged, List<LikelyReason> reasons)
    {
        if (clock is not { } offset) return;
        var at = isLogged ? start + offset : start - offset;
        if (others.AnyWithin(at - tolerance, at + tolerance))
            reasons.Add(new LikelyReason(ReasonKind.OtherClock, $"it has a pair with {FidelityWords.WithSign(offset)} added to the times of the log: the clocks may differ"));
    }

    private IEnumerable<AlarmCondition> Others(AlarmCondition condition, Func<Sides, Starts> side, SampleTime at) =>
        sides.Where(s => s.Key != condition && s.Key.IsPhysiological() == condition.IsPhysiological() && side(s.Value).AnyWithin(at - tolerance, at + tolerance)).Select(s => s.Key);

    // What the recording itself shows around a logged start: nothing, nothing beyond the limit, or too little of it.
    private void FromValues(AlarmCondition condition, LoggedSignal signal, List<LikelyReason> reasons)
    {
        if (Limit(condition) is not var (limit, delay, isLow))
        {
            reasons.Add(new LikelyReason(ReasonKind.NoSuchLimit, "the settings given have no limit for this condition"));
            return;
        }

        bool isPulse = condition is AlarmCondition.PulseRateLow or AlarmCondition.PulseRateHigh;
        var pieces = Around(isPulse ? pulseRate : spO2, signal.Start - tolerance - delay, signal.Start + tolerance);
        if (pieces.Count == 0)
        {
            reasons.Add(new LikelyReason(ReasonKind.NoValue, "the recording has no valid value there: a gap, a dropout, or values rejected by the validity rules"));
            return;
        }

        int extreme = isLow ? pieces.Min(p => p.Micro) : pieces.Max(p => p.Micro);
        if (isLow ? extreme >= limit : extreme <= limit)
        {
            string other = signal.LimitMicro is { } stated && stated != limit ? $"; the log states a limit of {LikelyReason.Value(stated, isPulse)}" : string.Empty;
            reasons.Add(new LikelyReason(ReasonKind.NeverBeyondLimit, $"the {(isLow ? "lowest" : "highest")} value there is {LikelyReason.Value(extreme, isPulse)}, the limit {LikelyReason.Value(limit, isPulse)}{other}: another limit, or values averaged or exported otherwise"));
            return;
        }

        var longest = Longest(pieces, p => isLow ? p.Micro < limit : p.Micro > limit);
        if (longest <= delay)
            reasons.Add(new LikelyReason(ReasonKind.TooShort, $"beyond the limit for {longest} at most, no longer than the delay of {delay}: the monitor waits less, or counts otherwise"));
    }

    private (int Limit, Duration Delay, bool IsLow)? Limit(AlarmCondition condition) => condition switch
    {
        AlarmCondition.SpO2Low when settings.SpO2Low is { } l => (l.Limit.Micro, l.Delay, true),
        AlarmCondition.SpO2Low when settings.Backstop is { } b => (b.Limit.Micro, b.Delay, true),
        AlarmCondition.SpO2High when settings.SpO2High is { } l => (l.Limit.Micro, l.Delay, false),
        AlarmCondition.PulseRateLow when settings.PulseRateLow is { } l => (l.Limit.Micro, l.Delay, true),
        AlarmCondition.PulseRateHigh when settings.PulseRateHigh is { } l => (l.Limit.Micro, l.Delay, false),
        _ => null,
    };

    private static List<ConditionedSeries.Piece> Around(ConditionedSeries? series, SampleTime from, SampleTime to)
    {
        var found = new List<ConditionedSeries.Piece>();
        if (series is null) return found;
        int low = 0, high = series.Pieces.Count;
        while (low < high)
        {
            int middle = low + (high - low) / 2;
            if (series.Pieces[middle].End <= from) low = middle + 1;
            else high = middle;
        }

        for (int i = low; i < series.Pieces.Count && series.Pieces[i].Start <= to; i++) found.Add(series.Pieces[i]);
        return found;
    }

    private static Duration Longest(List<ConditionedSeries.Piece> pieces, Func<ConditionedSeries.Piece, bool> isBeyond)
    {
        Duration longest = Duration.Zero, run = Duration.Zero;
        SampleTime? last = null;
        foreach (var piece in pieces)
        {
            if (!isBeyond(piece)) run = Duration.Zero;
            else run = (last == piece.Start ? run : Duration.Zero) + piece.Length;
            last = piece.End;
            if (run > longest) longest = run;
        }

        return longest;
    }

    // Of each kind of change the smallest that accounts for the signal.
    private IEnumerable<LikelyReason> Changes(AlarmCondition condition, Func<ChangedReplays.Run, bool> accounts, string words) =>
        runs[condition].Where(accounts).GroupBy(r => r.Change.Kind).OrderBy(g => g.Key)
            .Select(g => g.MinBy(r => r.Change.Size)!.Change)
            .Select(change => new LikelyReason(ReasonKind.OtherSetting, $"{words} {change}", change));

    private bool Overlaps(ChangedReplays.Run run, ReplayedSignal other)
    {
        // Signals of one condition follow each other, so only the one before can still be on.
        int i = runStarts[run].AtOrAfter(other.Start);
        return (i < run.Signals.Count && run.Signals[i].Start < other.End) || (i > 0 && run.Signals[i - 1].End > other.Start);
    }

    /// <summary>Log and replay of one condition, to be asked by time.</summary>
    private sealed class Sides
    {
        private readonly IReadOnlyList<LoggedSignal> logged;
        private readonly IReadOnlyList<ReplayedSignal> replayed;
        private readonly int[] longestSoFar; // of the logged up to each: which one ends last; -1 where none has an end

        public Sides(IReadOnlyList<LoggedSignal> logged, IReadOnlyList<ReplayedSignal> replayed, ConditionMatch? match)
        {
            this.logged = logged;
            this.replayed = replayed;
            Logged = new Starts(logged.Select(s => s.Start));
            Replayed = new Starts(replayed.Select(s => s.Start));
            Missing = new Starts(match?.Missing.Select(s => s.Start) ?? []);
            Extra = new Starts(match?.Extra.Select(s => s.Start) ?? []);
            longestSoFar = new int[logged.Count];
            int longest = -1;
            for (int i = 0; i < logged.Count; i++)
            {
                if (logged[i].End is { } end && (longest < 0 || end > logged[longest].End!.Value)) longest = i;
                longestSoFar[i] = longest;
            }
        }

        public Starts Logged { get; }

        public Starts Replayed { get; }

        public Starts Missing { get; }

        public Starts Extra { get; }

        /// <summary>When the replayed signal began that is on at an instant and began before it.</summary>
        public SampleTime? ReplayedOver(SampleTime time)
        {
            int before = Replayed.AtOrAfter(time) - 1;
            return before >= 0 && time < replayed[before].End ? replayed[before].Start : null;
        }

        /// <summary>The same of the log; null too where it gives no ends.</summary>
        public SampleTime? LoggedOver(SampleTime time)
        {
            int before = Logged.AtOrAfter(time) - 1;
            return before >= 0 && longestSoFar[before] is >= 0 and var i && time < logged[i].End!.Value ? logged[i].Start : null;
        }
    }
}
