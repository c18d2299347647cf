using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Formats.Exports;
using Stillwatch.Signals;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Jobs;

/// <summary>What is to be written, and how.</summary>
/// <param name="To">The file; its ending names the format.</param>
/// <param name="Replace">Whether files of that name may be replaced.</param>
/// <param name="WithEvents">Whether desaturation and must-catch events are found and written.</param>
/// <param name="DeIdentify">Whether dates are shifted, names replaced, texts left out.</param>
/// <param name="SecretPath">Of the kept secret; null: the standard place.</param>
/// <param name="Patient">Whose recording it is, for shift and pseudonym; null: ward.json's word, else the file's name.</param>
internal sealed record ExportRequest(string To, bool Replace, bool WithEvents, bool DeIdentify, string? SecretPath, string? Patient)
{
    public string ManifestPath => To + ExportManifest.Suffix;
}

/// <summary>What Stillwatch found in a recording, to stand in the export beside what its source said.</summary>
/// <param name="Notes">In time order.</param>
/// <param name="Definition">Of must-catch events; null without events.</param>
/// <param name="Settings">That were replayed; null without.</param>
/// <param name="HasDesaturationEvents">Whether they are defined for this recording and were looked for.</param>
/// <param name="NoEventsBecause">Why there are none, where they were asked for.</param>
internal sealed record ExportFindings(IReadOnlyList<Annotation> Notes, MustCatchDefinition? Definition, NamedSettings? Settings, bool HasDesaturationEvents, string? NoEventsBecause);

/// <summary>What was written.</summary>
internal sealed record ExportModel
{
    public required LoadedRecording Loaded { get; init; }

    public required ExportRequest Request { get; init; }

    public required ConditioningSettings Conditioning { get; init; }

    public required ExportFindings Findings { get; init; }

    public required Recording Written { get; init; }

    public required string Format { get; init; }

    /// <summary>What the writer rounded or left out.</summary>
    public required IReadOnlyList<ReadIssue> Issues { get; init; }

    /// <summary>Null: names are as in the original.</summary>
    public required DeIdentified? DeIdentified { get; init; }

    public required SecretFile? Secret { get; init; }

    public ExportedFile? Output { get; init; }
}
