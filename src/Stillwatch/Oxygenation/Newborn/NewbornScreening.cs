namespace Stillwatch.Oxygenation.Newborn;

/// <summary>Where a newborn's screen stands. A pass does not exclude heart disease; a fail calls for assessment, it is no diagnosis.</summary>
public enum ScreeningVerdict
{
    /// <summary>Nothing was measured yet.</summary>
    NotStarted,

    Pass,

    /// <summary>Measure again after an hour.</summary>
    Retest,

    Fail,
}

/// <summary>
/// The screen of one newborn, measurement by measurement. A state: <see cref="With"/> returns the next and leaves this one as it is.
/// </summary>
/// <remarks>That the child is quiet, old enough and breathing air, and that an hour lies between, is for those at the bedside: the screen is not told.</remarks>
public sealed record NewbornScreening
{
    private NewbornScreening(ScreeningRule rule, int measured, ScreeningVerdict verdict)
    {
        Rule = rule;
        Measured = measured;
        Verdict = verdict;
    }

    public ScreeningRule Rule { get; }

    /// <summary>How many measurements were judged.</summary>
    public int Measured { get; }

    public ScreeningVerdict Verdict { get; }

    public bool IsFinished => Verdict is ScreeningVerdict.Pass or ScreeningVerdict.Fail;

    public static NewbornScreening Start(ScreeningRule rule)
    {
        ArgumentNullException.ThrowIfNull(rule);
        return new NewbornScreening(rule, 0, ScreeningVerdict.NotStarted);
    }

    /// <summary>Judges the next measurement; what would be retested once more than the rule allows is failed.</summary>
    /// <exception cref="InvalidOperationException">The screen has ended: a new one is started instead, knowingly.</exception>
    public NewbornScreening With(ScreeningReading reading)
    {
        if (IsFinished) throw new InvalidOperationException($"The screen ended with {Verdict} after {Measured} measurement(s); a further one does not change it.");
        var verdict = Rule.Judge(reading);
        int measured = Measured + 1;
        if (verdict == ScreeningVerdict.Retest && measured > Rule.Retests) verdict = ScreeningVerdict.Fail;
        return new NewbornScreening(Rule, measured, verdict);
    }
}
