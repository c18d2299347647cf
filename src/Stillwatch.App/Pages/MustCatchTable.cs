using Stillwatch.App.Jobs;

namespace Stillwatch.App.Pages;

/// <summary>The events that settings may not miss, with what replayed settings made of them.</summary>
internal static class MustCatchTable
{
    private const int EventsShown = 12;

    public static void Write(Page page, ReviewModel model)
    {
        page.Heading(model.MustCatch.Count == 0 ? "No must-catch event" : Say.Count(model.MustCatch.Count, "must-catch event", "must-catch events"));
        foreach (string words in model.MarkWords) page.Text(words);
        if (model.MustCatch.Count == 0) return;
        var replay = model.Replay;
        List<(string, bool)> columns = [("Onset", true), ("Lasted", true), ("Nadir", true), ("Because", false)];
        if (replay is not null) columns.Add(("Under the settings", false));
        var table = Page.TableOf([.. columns]);
        for (int i = 0; i < Math.Min(EventsShown, model.MustCatch.Count); i++)
        {
            var e = model.MustCatch[i];
            List<string> cells = [model.Loaded.Recording.Start.ClockAt(e.Onset), Say.Length(e.End - e.Onset), $"{e.Nadir.Value:0.#} %", string.Join("; ", e.Parts.Select(p => p.Because).Distinct())];
            if (replay is not null) cells.Add(Say.Answer(replay.Answers[i]));
            Page.Row(table, [.. cells]);
        }

        page.Show(table);
        if (model.MustCatch.Count > EventsShown) page.Note($"{model.MustCatch.Count - EventsShown} more: see --json.");
    }
}
