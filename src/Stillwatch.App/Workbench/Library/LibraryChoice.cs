using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Library;

/// <summary>Which recordings of the library were chosen; null: all of that kind. Real and invented ones are never among them together.</summary>
public sealed record LibraryChoice(IReadOnlyList<StoredRecording> Recordings, string? Unit, string? Category, string? Patient)
{
    /// <summary>Whether the library holds both real and invented recordings, so that somebody has to say which are meant.</summary>
    public static bool HasBothKinds(IReadOnlyList<StoredRecording> all) => all.Any(r => r.IsInvented) && all.Any(r => !r.IsInvented);

    /// <summary>The recordings of one kind: where there are both, those asked for; else all there are.</summary>
    public static IReadOnlyList<StoredRecording> OfOneKind(IReadOnlyList<StoredRecording> all, bool invented) =>
        HasBothKinds(all) ? [.. all.Where(r => r.IsInvented == invented)] : all;
}
