using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;

namespace Stillwatch.Alarms;

/// <summary>Settings that contradict the rules, in words: found, expected.</summary>
public static class AlarmSettingsCheck
{
    private const long LongestDelayMilliseconds = 86_400_000;
    private const long LongestAveragingMilliseconds = 3_600_000;
    private const long ShortestReminderMilliseconds = 10_000;
    private static readonly Area LargestArea = new(1_000_000_000_000_000_000);

    /// <summary>Everything wrong with the settings; empty when they can be used.</summary>
    public static IReadOnlyList<string> Problems(AlarmSettings settings)
    {
        var problems = new List<string>();
        Conditioning("SpO2", settings.SpO2Conditioning, problems);
        Conditioning("pulse rate", settings.PulseConditioning, problems);
        Limit("SpO2 low", settings.SpO2Low, problems);
        Limit("SpO2 high", settings.SpO2High, problems);
        Limit("pulse rate low", settings.PulseRateLow, problems);
        Limit("pulse rate high", settings.PulseRateHigh, problems);
        if (settings.SpO2Low is { } low && (long)low.Limit.Micro + low.ClearMargin.Micro > 100L * FixedPoint.One)
            problems.Add($"SpO2 low: limit {low.Limit} with clear margin {low.ClearMargin} found; expected together at most 100 %, or the signal could never clear.");
        if (settings.SpO2High is { } high && high.Limit.Micro - (long)high.ClearMargin.Micro < 0)
            problems.Add($"SpO2 high: limit {high.Limit} with clear margin {high.ClearMargin} found; expected limit minus margin of at least 0 %, or the signal could never clear.");
        if (settings.PulseRateHigh is { } fast && fast.Limit.Micro - (long)fast.ClearMargin.Micro < 0)
            problems.Add($"Pulse rate high: limit {fast.Limit} with clear margin {fast.ClearMargin} found; expected limit minus margin of at least 0 /min, or the signal could never clear.");
        Backstop(settings, Priorities(settings.Priorities, problems), problems);
        Times(settings, problems);
        return problems;
    }

    /// <exception cref="ArgumentException">The settings contradict the rules; the message says how.</exception>
    public static void ThrowIfUnusable(AlarmSettings settings)
    {
        var problems = Problems(settings);
        if (problems.Count > 0) throw new ArgumentException(string.Join(' ', problems), nameof(settings));
    }

    private static void Conditioning(string name, ConditioningSettings settings, List<string> problems)
    {
        if (!Enum.IsDefined(settings.Validity)) problems.Add($"{name}: validity {settings.Validity} found; expected standard or none.");
        if (!Enum.IsDefined(settings.Rounding)) problems.Add($"{name}: rounding {settings.Rounding} found; expected display or none.");
        Within($"{name}: averaging", settings.Averaging, 0, LongestAveragingMilliseconds, problems);
        Within($"{name}: gap tolerance", settings.GapTolerance, 0, LongestDelayMilliseconds, problems);
    }

    private static void Limit<T>(string name, LimitSettings<T>? limit, List<string> problems)
        where T : struct, IQuantity<T>
    {
        if (limit is null) return;
        Within($"{name}: delay", limit.Delay, 0, LongestDelayMilliseconds, problems);
        if (limit.AreaThreshold < Area.Zero || limit.AreaThreshold > LargestArea)
            problems.Add($"{name}: area threshold {limit.AreaThreshold.Value} found; expected 0 to {LargestArea.Value} unit·s.");
        if (limit.ClearMargin.Micro < 0)
            problems.Add($"{name}: clear margin {limit.ClearMargin} found; expected 0 or more.");
    }

    private static void Backstop(AlarmSettings settings, bool arePrioritiesKnown, List<string> problems)
    {
        if (settings.Backstop is not { } backstop) return;
        Within("Backstop: delay", backstop.Delay, 0, LongestDelayMilliseconds, problems);
        if (settings.SpO2Low is { } low && backstop.Limit >= low.Limit)
            problems.Add($"Backstop: limit {backstop.Limit} found; expected below the SpO2 low limit {low.Limit}.");
        if (arePrioritiesKnown && settings.Priorities.OfBackstop < settings.Priorities.Of(AlarmCondition.SpO2Low))
            problems.Add($"Backstop: priority {settings.Priorities.OfBackstop} found; expected no lower than SpO2 low's {settings.Priorities.Of(AlarmCondition.SpO2Low)}.");
    }

    /// <summary>Whether all priorities can be looked up.</summary>
    private static bool Priorities(PrioritySettings priorities, List<string> problems)
    {
        bool known = Known("Backstop", priorities.Backstop);
        foreach (var condition in Enum.GetValues<AlarmCondition>())
        {
            if (!Known(condition.ToString(), priorities.RiskOf(condition))) known = false;
            else if (condition.IsPhysiological() && priorities.Of(condition) == AlarmPriority.None)
                problems.Add($"{condition}: no priority found; expected low, medium or high (to switch it off, leave its limit out).");
        }

        return known;

        bool Known(string name, AlarmRisk risk)
        {
            if (Enum.IsDefined(risk.Result) && Enum.IsDefined(risk.Onset) && Enum.IsDefined(priorities.Table.Of(risk))) return true;
            problems.Add($"{name}: risk {risk} found; expected a cell of the priority table that holds a priority.");
            return false;
        }
    }

    private static void Times(AlarmSettings settings, List<string> problems)
    {
        foreach (var condition in Enum.GetValues<AlarmCondition>())
        {
            if (!condition.IsPhysiological())
                Within($"{condition}: delay", settings.Technical.DelayOf(condition), 0, LongestDelayMilliseconds, problems);
        }

        Within("Audio paused", settings.Annunciation.AudioPausedFor, 1, LongestDelayMilliseconds, problems);
        Within("Alarm paused", settings.Annunciation.AlarmPausedFor, 1, LongestDelayMilliseconds, problems);
        if (settings.Annunciation.ReminderEvery is { } reminder)
            Within("Reminder", reminder, ShortestReminderMilliseconds, LongestDelayMilliseconds, problems);
    }

    private static void Within(string name, Duration found, long least, long most, List<string> problems)
    {
        if (found.Milliseconds < least || found.Milliseconds > most)
            problems.Add($"{name}: {found} found; expected {new Duration(least)} to {new Duration(most)}.");
    }
}
