using Stillwatch.App.Files;

namespace Stillwatch.App.Jobs;

/// <summary>What had to be taken as given because nobody said it, in the words in which pages, JSON and reports say it.</summary>
internal static class Assumptions
{
    private const int FilesNamed = 5;

    public const string Adult =
        "No category was given, so an adult was assumed: not to be used for a child, a neonate or a patient with a lower prescribed target.";

    /// <summary>The caveats that come before those of the evidence itself.</summary>
    public static IEnumerable<string> Of(CategoryChoice category, IReadOnlyList<TunedRecording> recordings)
    {
        if (Patients(recordings) is { } patients) yield return patients + " If some are of one patient, the bounds over patients are too good.";
        if (category.IsAssumed) yield return Adult;
    }

    /// <summary>Whose recordings are not known, among several; null where ward.json says it of each, or where there is one only.</summary>
    public static string? Patients(IReadOnlyList<TunedRecording> recordings)
    {
        if (recordings.Count < 2) return null;
        string[] unnamed = [.. recordings.Where(r => !r.Loaded.IsInManifest).Select(r => r.Loaded.File.Name)];
        if (unnamed.Length == 0) return null;
        if (unnamed.Length == recordings.Count) return "Nothing (no ward.json, no pseudonym) says whose the recordings are: each file was taken as a patient of its own.";
        string more = unnamed.Length > FilesNamed ? $" and {unnamed.Length - FilesNamed} more" : string.Empty;
        return $"Nothing (no ward.json, no pseudonym) says whose these recordings are: {string.Join(", ", unnamed.Take(FilesNamed))}{more}; each was taken as a patient of its own.";
    }
}
