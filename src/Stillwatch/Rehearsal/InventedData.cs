using Stillwatch.Signals;

namespace Stillwatch.Rehearsal;

/// <summary>How invented data say of themselves that they are, in every format that keeps notes: nobody may take a rehearsal for a patient.</summary>
public static class InventedData
{
    /// <summary>How the note begins.</summary>
    public const string Notice = "Invented data of a rehearsal: no patient";

    /// <summary>Whether a recording says of itself that its data are invented.</summary>
    public static bool SaysSo(Recording recording) => recording.Annotations.Any(a => a.Text.StartsWith(Notice, StringComparison.Ordinal));
}
