using Stillwatch.Formats.Exports;
using Stillwatch.Oximetry;
using Stillwatch.Signals;

namespace Stillwatch.App.Jobs;

/// <summary>What was derived from a recording's light, and what was written of it.</summary>
public sealed record DeriveModel
{
    /// <summary>Said on the page, in JSON, in the manifest and in the report.</summary>
    public static readonly IReadOnlyList<string> Cautions =
    [
        "Derived by Stillwatch from light with a named textbook curve or the user's own table: not the monitor's reading, and not for diagnosis.",
        "No curve of a device is in the program, for none is published: SpO2 by another curve differs by several percent from the same light. Trends, states and beats carry further than the number.",
        "A refused second is a technical state and says nothing of the patient; \"no pulse found\" is a reason to look at the patient, not a finding.",
        "Other haemoglobins (carboxy-, met-) mislead every reading of two wavelengths, and so may skin pigment and nail varnish.",
    ];

    public required LoadedRecording Loaded { get; init; }

    public required DerivedRecording Derived { get; init; }

    public required DerivedSummary Summary { get; init; }

    /// <summary>A curve's own table, as it was read; null: a named curve.</summary>
    public Files.InputFile? CurveFile { get; init; }

    /// <summary>Null: nothing was to be written.</summary>
    public DeriveOutput? Output { get; init; }
}

/// <summary>The derived numbers as a file.</summary>
/// <param name="To">As the user named it.</param>
/// <param name="ManifestPath">Of what stands beside it.</param>
/// <param name="Format">As a person would name it.</param>
/// <param name="Written">What is in it.</param>
/// <param name="File">Name, hash, length.</param>
/// <param name="Issues">What the format rounds or leaves out.</param>
public sealed record DeriveOutput(string To, string ManifestPath, string Format, Recording Written, ExportedFile File, IReadOnlyList<ReadIssue> Issues);
