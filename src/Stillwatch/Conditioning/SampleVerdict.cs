namespace Stillwatch.Conditioning;

/// <summary>What rule R2 says of one row; each rejected row keeps its reason.</summary>
public enum SampleVerdict : byte
{
    Accepted,

    /// <summary>Accepted, and so low (SpO2 1–29 %) that a technical condition is raised besides.</summary>
    AcceptedImplausible,

    /// <summary>The row holds no number.</summary>
    NoNumber,

    /// <summary>The source itself says that it is not valid.</summary>
    FlaggedBySource,

    /// <summary>SpO2 ≤ 0 or &gt; 100; pulse rate ≤ 0: a dropout code, never a measurement.</summary>
    OutOfRange,

    /// <summary>Signal quality is known and below its threshold.</summary>
    PoorQuality,

    /// <summary>Too far from the last accepted value for the time since: more than 10 percentage points a second, within 3 s.</summary>
    DoubtedJump,
}

public static class SampleVerdicts
{
    public static bool IsAccepted(this SampleVerdict verdict) => verdict <= SampleVerdict.AcceptedImplausible;
}
