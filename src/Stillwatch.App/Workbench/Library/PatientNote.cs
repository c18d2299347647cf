using Stillwatch.App.Jobs;

namespace Stillwatch.App.Workbench.Library;

/// <summary>What has to be said beside a count of patients.</summary>
internal static class PatientNote
{
    public const string Words = "each file without a pseudonym counts as one patient";

    /// <summary>The same in brackets after the count, where such files are among them; else nothing.</summary>
    public static string InBrackets(IEnumerable<TunedRecording> recordings) => recordings.Any(r => !r.Loaded.IsInManifest) ? $" ({Words})" : "";
}
