using System.Globalization;

namespace Stillwatch.Accuracy.Page;

/// <summary>One row of the accuracy table: some data, what was measured on them, and where they come from.</summary>
internal sealed record AccuracyRow
{
    /// <summary>A short name to ask for the row by.</summary>
    public required string Key { get; init; }

    /// <summary>Which data, in words.</summary>
    public required string Data { get; init; }

    /// <summary>Origin of the data in a few words, for beside the figures.</summary>
    public required string Origin { get; init; }

    /// <summary>Origin of the data and of what they are held against, in full.</summary>
    public required string Source { get; init; }

    /// <summary>How the figure was made: windows, alignment, what counts as kept.</summary>
    public required string Method { get; init; }

    /// <summary>Parameters that were chosen or changed after this row had been looked at; empty is the rule.</summary>
    public IReadOnlyList<string> ChangedAfterwards { get; init; } = [];

    /// <summary>Empty: not measured, and <see cref="NotMeasured"/> says why.</summary>
    public IReadOnlyList<Figure> Figures { get; init; } = [];

    public string? NotMeasured { get; init; }

    /// <summary>Why a figure is missed, as far as it was found out; kept here because the page is written from here.</summary>
    public IReadOnlyList<string> Remarks { get; init; } = [];

    public bool IsMissed => Figures.Any(f => f.Reach is { } reach && !reach.IsMetBy(f.Value));
}

/// <summary>One measured number.</summary>
/// <param name="Name">What it is.</param>
/// <param name="Value">Unrounded; NaN: nothing was shown, so there is no figure.</param>
/// <param name="Unit">"" for none.</param>
/// <param name="Decimals">To print.</param>
/// <param name="Reach">What it should reach; null: reported only.</param>
internal sealed record Figure(string Name, double Value, string Unit, int Decimals, Reach? Reach = null)
{
    /// <summary>Half away from zero on the decimal, so that every machine prints the same but for a last digit.</summary>
    public string Shown => double.IsNaN(Value)
        ? "none"
        : Math.Round((decimal)Value, Decimals, MidpointRounding.AwayFromZero).ToString("F" + Decimals, CultureInfo.InvariantCulture) + (Unit.Length > 0 ? " " + Unit : "");

    public string Verdict => Reach is null ? "reported" : Reach.IsMetBy(Value) ? "met" : "missed";
}

/// <summary>A bound that a figure should reach.</summary>
internal sealed record Reach(bool IsUpper, double Bound, string Unit)
{
    public static Reach AtMost(double bound, string unit = "") => new(true, bound, unit);

    public static Reach AtLeast(double bound, string unit = "") => new(false, bound, unit);

    /// <summary>No figure (NaN) meets nothing.</summary>
    public bool IsMetBy(double value) => IsUpper ? value <= Bound : value >= Bound;

    public override string ToString() => $"{(IsUpper ? "≤" : "≥")} {Bound.ToString(CultureInfo.InvariantCulture)}{(Unit.Length > 0 ? " " + Unit : "")}";
}
