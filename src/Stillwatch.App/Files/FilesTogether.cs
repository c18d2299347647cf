namespace Stillwatch.App.Files;

/// <summary>Drafts that become files together: all of them, or none and what stood there before stands there again.</summary>
internal static class FilesTogether
{
    /// <summary>A draft for a file, in the folder of the file itself, so that the last step is a renaming and nothing else.</summary>
    public static string DraftFor(string path) => Path.Combine(Path.GetDirectoryName(Path.GetFullPath(path)) ?? ".", $".{Path.GetRandomFileName()}.stillwatch-draft");

    /// <param name="drafts">Each with the file that it becomes, in this order.</param>
    /// <param name="replace">Whether a file of that name may stand there.</param>
    /// <exception cref="IOException">One cannot be put in its place; the folders are as they were.</exception>
    /// <exception cref="UnauthorizedAccessException">The same.</exception>
    public static void Place(IReadOnlyList<(string Draft, string Path)> drafts, bool replace)
    {
        var placed = new Stack<(string Path, string? Before)>();
        try
        {
            foreach (var (draft, path) in drafts) placed.Push((path, PutInPlace(draft, path, replace)));
        }
        catch
        {
            foreach (var (path, before) in placed) TakeBack(path, before);
            throw;
        }

        foreach (var (_, before) in placed)
        {
            if (before is not null) Discard(before);
        }
    }

    /// <summary>Deletes a draft where there is one; says nothing where it cannot.</summary>
    public static void Discard(string path)
    {
        try
        {
            File.Delete(path);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // A draft that cannot be taken away does no harm, and what went wrong before is what must be said.
        }
    }

    // Where the file of before is kept meanwhile; null: there was none.
    private static string? PutInPlace(string draft, string path, bool replace)
    {
        if (!replace || !File.Exists(path))
        {
            File.Move(draft, path, replace);
            return null;
        }

        string before = DraftFor(path);
        File.Replace(draft, path, before);
        return before;
    }

    private static void TakeBack(string path, string? before)
    {
        try
        {
            if (before is null) File.Delete(path);
            else File.Move(before, path, overwrite: true);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException)
        {
            // The file of before is still there under its other name, and the first trouble is what must be said.
        }
    }
}
