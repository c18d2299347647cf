using Stillwatch.App.Jobs;

namespace Stillwatch.App.Pages;

/// <summary>What was said of a set of recordings by its manifest, and what of it is not in the result.</summary>
internal static class SetNotes
{
    private const int NamedAtMost = 8;

    public static void Write(Page page, LoadedSet loaded, IReadOnlyList<string> notComputable)
    {
        foreach (string note in loaded.Notes) page.Text("ward.json: " + note);
        foreach (var file in loaded.Unreadable) page.Bullet($"NOT READ, and in no number below: {file.Path}: found {file.Trouble.Found}; expected {file.Trouble.Expected}");
        foreach (string why in notComputable.Take(NamedAtMost)) page.Bullet("In no number below: " + why);
        if (notComputable.Count > NamedAtMost) page.Bullet($"In no number below: {notComputable.Count - NamedAtMost} more files; see notComputable in --json");
        if (loaded.LeftOut.Count > 0)
            page.Bullet($"Not named in ward.json, and in no number below: {string.Join(", ", loaded.LeftOut.Select(Path.GetFileName).Take(5))}{(loaded.LeftOut.Count > 5 ? $" and {loaded.LeftOut.Count - 5} more" : string.Empty)}");
    }
}
