using Stillwatch.App.Pages;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Evidence;

/// <summary>What is said of must-catch events and of signals that last, in words.</summary>
public static class EventWords
{
    /// <summary>Why an event must be caught, each reason once: a long event meets the same line many times.</summary>
    public static string Because(string because) => string.Join("; ", because.Split("; ").GroupBy(b => b).Select(g => g.Count() > 1 ? $"{g.Key} ({g.Count()} times)" : g.Key));

    /// <summary>What settings made of an event. A signal that is active at the onset, though these settings have to wait, began before it.</summary>
    public static string Answer(CatchVerdict verdict, Duration? time, CandidateSettings settings)
    {
        if (time is not { Milliseconds: 0 }) return Say.Answer(new(verdict, time));
        bool waits = (settings.SpO2Low.Delay > Duration.Zero || settings.SpO2Low.AreaThreshold.Value > 0) && settings.Backstop is not { Delay.Milliseconds: 0 };
        return $"{Say.Verdict(verdict)}, {(waits ? "already on" : "on at the onset")}";
    }

    /// <summary>The share of the valid time with a signal on, where it is more than the guard rail allows beyond the must-catch events; else null.</summary>
    public static string? HardlyStops(CandidateEvidence evidence, GuardRails rails) =>
        evidence.SignalTimeShare > rails.SignalTimeShare ? $"A signal is on for {Say.Share(ShareOn(evidence))} of the valid time" : null;

    /// <summary>What stands behind <see cref="HardlyStops"/>.</summary>
    public static string WhyThatMatters(CandidateEvidence evidence, GuardRails rails) =>
        $"Longer on than a proposal may be: {Say.Share(evidence.SignalTimeShare)} beyond what the must-catch events last, where the search allows {Say.Share(rails.SignalTimeShare)} ({rails.Source}).";

    /// <summary>The share of the valid time with a signal on, 0–1.</summary>
    public static double ShareOn(CandidateEvidence evidence) => evidence.SignalMinutesPerDay / TimeSpan.FromDays(1).TotalMinutes;
}
