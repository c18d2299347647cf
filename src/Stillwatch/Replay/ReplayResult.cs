using Stillwatch.Alarms;
using Stillwatch.Time;

namespace Stillwatch.Replay;

/// <summary>An alarm load with its own denominator (R12).</summary>
/// <param name="Signals">Starts of signals.</param>
/// <param name="Active">Time of signal, without suspensions; signals of several conditions at once each count.</param>
/// <param name="Per">The time it is counted over: valid time for physiological conditions, connected time for technical ones.</param>
public readonly record struct AlarmLoad(int Signals, Duration Active, Duration Per)
{
    /// <summary>Signals per 24 h; null without any time to count over.</summary>
    public double? SignalsPerDay => Per > Duration.Zero ? Signals * 24.0 / Per.Hours : null;

    /// <summary>Minutes of signal per 24 h; null without any time to count over.</summary>
    public double? MinutesPerDay => Per > Duration.Zero ? Active.Minutes * 24.0 / Per.Hours : null;
}

/// <summary>What one settings set would have signalled over a recording, unattended and non-latching (R12).</summary>
/// <param name="Signals">Of all conditions, by start.</param>
/// <param name="Valid">Valid time of SpO2, or of the pulse rate in a recording without SpO2: what the physiological load is counted over.</param>
/// <param name="Connected">First row to end: what the technical load is counted over.</param>
public sealed record ReplayResult(IReadOnlyList<ReplayedSignal> Signals, Duration Valid, Duration Connected)
{
    /// <summary>Never to be added to <see cref="TechnicalLoad"/>: another denominator, another meaning.</summary>
    public AlarmLoad PhysiologicalLoad => Load(s => s.Condition.IsPhysiological(), Valid);

    public AlarmLoad TechnicalLoad => Load(s => !s.Condition.IsPhysiological(), Connected);

    public IEnumerable<ReplayedSignal> Of(AlarmCondition condition) => Signals.Where(s => s.Condition == condition);

    public AlarmLoad LoadOf(AlarmCondition condition) => Load(s => s.Condition == condition, condition.IsPhysiological() ? Valid : Connected);

    private AlarmLoad Load(Func<ReplayedSignal, bool> counts, Duration per)
    {
        var counted = Signals.Where(counts).ToList();
        return new AlarmLoad(counted.Count, counted.Aggregate(Duration.Zero, (sum, s) => sum + s.Active), per);
    }
}
