namespace Stillwatch.Oxygenation.Indices;

/// <summary>How severe an oxygenation index is called. Only part of the definition of acute respiratory distress: time, cause and image belong to it as well.</summary>
public enum OxygenationSeverity
{
    /// <summary>Below the lowest band.</summary>
    BelowBands,

    Mild,

    Moderate,

    Severe,

    /// <summary>The 2023 consensus no longer parts mild from moderate.</summary>
    NotSevere,
}

/// <summary>The paediatric consensus bands of OI and OSI, each with its year.</summary>
/// <param name="Source">Where the limits come from, and how far they may be trusted.</param>
/// <param name="Limits">Rising; a band begins at its limit (≥) and ends before the next.</param>
public sealed record SeverityBands(string Source, IReadOnlyList<(double From, OxygenationSeverity Severity)> Limits)
{
    /// <summary>OSI, consensus of 2015: mild from 5, moderate from 7.5, severe from 12.3.</summary>
    public static SeverityBands Saturation2015 { get; } = new(Consensus2015,
        [(5, OxygenationSeverity.Mild), (7.5, OxygenationSeverity.Moderate), (12.3, OxygenationSeverity.Severe)]);

    /// <summary>OI, consensus of 2015: mild from 4, moderate from 8, severe from 16.</summary>
    public static SeverityBands Pressure2015 { get; } = new(Consensus2015,
        [(4, OxygenationSeverity.Mild), (8, OxygenationSeverity.Moderate), (16, OxygenationSeverity.Severe)]);

    /// <summary>OSI, consensus of 2023: severe from 12.</summary>
    public static SeverityBands Saturation2023 { get; } = new(Consensus2023,
        [(5, OxygenationSeverity.NotSevere), (12, OxygenationSeverity.Severe)]);

    /// <summary>OI, consensus of 2023: severe from 16.</summary>
    public static SeverityBands Pressure2023 { get; } = new(Consensus2023,
        [(4, OxygenationSeverity.NotSevere), (16, OxygenationSeverity.Severe)]);

    private const string Consensus2015 = "paediatric acute lung injury consensus 2015, secondary copy";
    private const string Consensus2023 = "paediatric acute lung injury consensus 2023, from memory";

    /// <exception cref="ArgumentOutOfRangeException">NaN, or not above zero.</exception>
    public OxygenationSeverity Of(double index)
    {
        if (!(index > 0)) throw new ArgumentOutOfRangeException(nameof(index), $"The index is {index}; expected above 0.");
        var severity = OxygenationSeverity.BelowBands;
        foreach (var (from, band) in Limits)
        {
            if (index >= from) severity = band;
        }

        return severity;
    }
}
