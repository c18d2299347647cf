using Stillwatch.Storage.Recordings;

namespace Stillwatch.App.Workbench.Library;

/// <summary>Which recordings of the library were chosen; null: all of that kind.</summary>
public sealed record LibraryChoice(IReadOnlyList<StoredRecording> Recordings, string? Unit, string? Category, string? Patient);
