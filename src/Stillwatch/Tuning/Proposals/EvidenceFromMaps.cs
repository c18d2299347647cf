using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Tuning.Proposals;

/// <summary>
/// Reads every candidate's evidence out of settings maps: one map per recording, averaging time and backstop, never one run
/// of the engine per candidate. Recordings with a row only.
/// </summary>
internal static class EvidenceFromMaps
{
    /// <summary>Each recording is conditioned, read and let go, so that memory does not grow with the nights.</summary>
    public static PatientEvidence Of(string patient, IReadOnlyList<TuningRecording> recordings, CandidateGrid grid, ProposalRules rules) =>
        Of(patient, recordings.Select(r => new ReadyRecording(r, rules)), grid, rules);

    public static PatientEvidence Of(string patient, IEnumerable<ReadyRecording> recordings, CandidateGrid grid, ProposalRules rules)
    {
        var signals = new long[grid.Count];
        var active = new long[grid.Count];
        var technical = new long[grid.Count];
        var events = new List<EventEvidence>();
        var possible = new List<EventEvidence>();
        var valid = Duration.Zero;
        var connected = Duration.Zero;
        int nights = 0;
        var plans = MapPlan.For(grid, rules.Conditioning);
        int[] withoutCell = [.. Enumerable.Range(0, grid.Count).Where(c => !CandidateGrid.HasCell(grid.Candidates[c]))];
        foreach (var ready in recordings)
        {
            nights++;
            valid += ready.Unaveraged.Valid;
            connected += ready.Unaveraged.Connected;
            var times = ready.Parts.ToList().ConvertAll(_ => new int[grid.Count]);
            var losses = new Dictionary<Duration, LostTime>();
            LostTime Lost(Duration averaging)
            {
                if (!losses.TryGetValue(averaging, out var lost)) losses[averaging] = lost = ready.LostAt(averaging);
                return lost;
            }

            foreach (var plan in plans)
            {
                var lost = Lost(plan.Conditioning.Averaging);
                plan.ReadMap(lost.Series, ready, times, signals, active);
                plan.ReadLosses(lost, rules.NoReadingDelay, technical);
            }

            foreach (int candidate in withoutCell)
            {
                var settings = grid.Candidates[candidate];
                RunEngine(ready.Recording.SpO2, settings, rules.Conditioning with { Averaging = settings.Averaging }, candidate, ready.Parts, times, signals, active);
                technical[candidate] += Lost(settings.Averaging).TechnicalSignals(settings.SpO2Low.Limit, rules.NoReadingDelay);
            }

            int part = 0;
            for (int e = 0; e < ready.Asked.Count; e++)
            {
                var asked = ready.Asked[e];
                var one = new EventEvidence(
                    ready.Recording.Name, asked.Onset, asked.End, string.Join("; ", asked.Parts.Select(p => p.Because)),
                    [.. asked.Parts.Select(p => new PartEvidence(p.End - p.Onset, p.Within, times[part++]))]);
                (e < ready.Recording.MustCatch.Count ? events : possible).Add(one);
            }
        }

        return new PatientEvidence(patient, nights, valid, connected, signals, active, technical, events, possible);
    }

    /// <summary>For present settings with a delay and an area threshold together, which no map holds.</summary>
    private static void RunEngine(
        ConditionedSource source, CandidateSettings settings, ConditioningSettings conditioning, int candidate,
        IReadOnlyList<MustCatchEvent> parts, List<int[]> times, long[] signals, long[] active)
    {
        if (!settings.CanRun())
        {
            signals[candidate] = -1;
            foreach (int[] time in times) time[candidate] = -1;
            return;
        }

        var run = Replayer.RunLow(source, settings.SpO2Low, settings.Backstop, conditioning);
        signals[candidate] += run.Count;
        active[candidate] += run.Sum(s => s.Active.Milliseconds);
        for (int p = 0; p < parts.Count; p++)
            times[p][candidate] = CatchJudge.Judge(parts[p], run).TimeToSignal is { } t ? checked((int)t.Milliseconds) : -1;
    }

    /// <summary>One map to draw for each recording, and which of its cells belong to which candidate.</summary>
    private sealed class MapPlan
    {
        private readonly MapRequest request;
        private readonly List<(int Candidate, int Limit, bool ByArea, int Threshold)> cells = [];
        private readonly List<Percent> limits;

        private MapPlan(IEnumerable<(CandidateSettings Settings, int Index)> members, ConditioningSettings conditioning)
        {
            var all = members.ToList();
            var first = all[0].Settings;
            limits = [.. all.Select(m => m.Settings.SpO2Low.Limit).Distinct().Order()];
            List<Duration> delays = [.. all.Select(m => m.Settings.SpO2Low.Delay).Append(Duration.Zero).Distinct().Order()];
            List<Area> areas = [.. all.Select(m => m.Settings.SpO2Low.AreaThreshold).Append(Area.Zero).Distinct().Order()];
            request = new MapRequest(
                LimitSide.Low, new MapGrid([.. limits.Select(l => l.Micro)], delays, areas), first.SpO2Low.ClearMargin.Micro,
                first.Backstop, conditioning with { Averaging = first.Averaging }, KeepTimesToSignal: true);
            foreach (var (settings, index) in all)
            {
                var low = settings.SpO2Low;
                bool byArea = low.AreaThreshold > Area.Zero;
                cells.Add((index, limits.IndexOf(low.Limit), byArea, byArea ? areas.IndexOf(low.AreaThreshold) : delays.IndexOf(low.Delay)));
            }
        }

        public static List<MapPlan> For(CandidateGrid grid, ConditioningSettings conditioning) =>
        [
            .. grid.Candidates.Select((settings, index) => (settings, index))
                .Where(c => CandidateGrid.HasCell(c.settings))
                .GroupBy(c => (c.settings.Averaging, c.settings.Backstop, c.settings.SpO2Low.ClearMargin))
                .Select(g => new MapPlan(g, conditioning)),
        ];

        public ConditioningSettings Conditioning => request.Conditioning;

        public void ReadLosses(LostTime lost, Duration noReadingDelay, long[] technical)
        {
            var byLimit = limits.ConvertAll(l => lost.TechnicalSignals(l, noReadingDelay));
            foreach (var (candidate, limit, _, _) in cells) technical[candidate] += byLimit[limit];
        }

        public void ReadMap(ConditionedSeries series, ReadyRecording ready, List<int[]> times, long[] signals, long[] active)
        {
            var map = SettingsMap.Of(series, ConditionedQuantity.SpO2, ready.Unaveraged.Valid, request, ready.Parts);
            foreach (var (candidate, limit, byArea, threshold) in cells)
            {
                var plane = byArea ? map.ByArea : map.ByDelay;
                if (plane.IsNull(limit, threshold))
                {
                    signals[candidate] = -1;
                    foreach (int[] time in times) time[candidate] = -1;
                    continue;
                }

                signals[candidate] += plane.Signals[limit, threshold];
                active[candidate] += plane.ActiveMilliseconds[limit, threshold];
                for (int p = 0; p < times.Count; p++)
                    times[p][candidate] = plane.TimeToSignal(p, limit, threshold) is { } t ? checked((int)t.Milliseconds) : -1;
            }
        }
    }
}
