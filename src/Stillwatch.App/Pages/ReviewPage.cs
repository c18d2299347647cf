using Stillwatch.App.Jobs;
using Stillwatch.Oxygenation;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Pages;

/// <summary>"What happened in this recording?"</summary>
internal static class ReviewPage
{
    private const int EventsShown = 10;
    private const int HoursShown = 48;

    public static void Write(Page page, ReviewModel model, string? report)
    {
        var review = model.Review;
        var recording = model.Loaded.Recording;
        page.Question("What happened in this recording?");
        page.Subject($"{model.Loaded.File.Name} · column {ReviewJob.ChannelWords(model.Loaded, model.Source)} · {Say.Length(review.Monitored)}{(recording.Start.IsKnown ? $" from {recording.Start}" : ", start unknown")} · {model.Loaded.Category.Words}");
        page.Answer(Answer(model));
        Exposure(page, review);
        Strip(page, model);
        Events(page, model);
        MustCatchTable.Write(page, model);
        if (model.Replay is { } replay) Replayed(page, model, replay);
        if (model.Fidelity is { } fidelity) FidelityTable.Write(page, fidelity, model.Loaded.Recording.Start);
        if (model.LogNotCompared is { } why) page.Text(why);
        Hours(page, model);
        if (model.Loaded.Issues.Count > 0) IssueList.Write(page, model.Loaded.Issues, most: 6);
        page.Heading("How this was counted");
        page.Note(review.Definition);
        foreach (string what in review.NotApplicable) page.Note("Does not apply: " + what);
        page.Note("Must-catch events: " + Say.Definition(model.Definition) + ".");
        page.Report(report);
        page.Caution();
    }

    public static string Answer(ReviewModel model)
    {
        var exposure = model.Review.Exposure;
        if (exposure.Mean is null) return "No valid SpO2 in it: nothing can be said of the patient.";
        var below = exposure.Below[0];
        string events = model.Review.Events is { } list ? $"{Say.Count(list.Count, "desaturation event", "desaturation events")} (ODI3 {Say.Number(exposure.Odi3, "0.0")} an hour)" : "desaturation events do not apply to a series this sparse";
        string catches = Say.Count(model.MustCatch.Count, "must-catch event", "must-catch events");
        return $"{below.Time.Minutes:0.#} min below {below.Level.Value:0.##} % ({below.PercentOfValid:0.0} % of the valid time), lowest {Say.Number(exposure.Minimum)} %; {events}; {catches}. "
            + $"Values cover {Say.Share(model.Review.Coverage)} of the recording.";
    }

    private static void Exposure(Page page, RecordingReview review)
    {
        page.Heading("Exposure");
        var table = Page.TableOf(("SpO2 below", true), ("Minutes", true), ("% of valid time", true), ("Minutes an hour", true));
        foreach (var below in review.Exposure.Below)
            Page.Row(table, $"{below.Level.Value:0.##} %", Say.Number(below.Time.Minutes, "0.0"), Say.Number(below.PercentOfValid, "0.00"), Say.Number(below.MinutesPerHour));
        page.Show(table);
        var e = review.Exposure;
        page.Text($"Mean {Say.Number(e.Mean, "0.0")} · median {Say.Number(e.Median)} · 5th percentile {Say.Number(e.Percentile5)} · 1st {Say.Number(e.Percentile1)} · lowest {Say.Number(e.Minimum)} %");
        page.Text($"ODI3 {Say.Number(e.Odi3, "0.0")} · ODI4 {Say.Number(e.Odi4, "0.0")} an hour · area below 90: {Say.Number(e.AreaBelow90PerHour, "#,0.#")} %·s an hour{(e.DeltaIndex is { } delta ? $" · Δ index {delta:0.00}" : "")}");
        if (e.Target is { } target)
            page.Text($"Target {target.Low.Value:0.##}–{target.High.Value:0.##} %: below {Say.Length(target.Below)}, within {Say.Length(target.Within)}, above {Say.Length(target.Above)}");
    }

    public static void Strip(Page page, ReviewModel model)
    {
        int minutes = NightStrip.CellMinutes(model.SpO2);
        page.Heading(minutes == 1 ? "The recording, hour by hour, a sign a minute" : $"The recording, day by day, a sign for {minutes} minutes");
        var rows = NightStrip.Rows(model.SpO2, out int rowsLeftOut);
        if (minutes == 1) page.Line("   minute   0         10        20        30        40        50");
        foreach (var row in rows) page.Line($"{model.Loaded.Recording.Start.ClockAt(row.Start),10}  {row.Signs}");
        if (rowsLeftOut > 0) page.Note($"{rowsLeftOut} more lines are left out.");
        page.Note(NightStrip.Legend);
    }

    private static void Events(Page page, ReviewModel model)
    {
        if (model.Review.Events is not { Count: > 0 } events) return;
        page.Heading(events.Count > EventsShown ? $"The {EventsShown} largest of {events.Count} desaturation events, by area" : "Desaturation events, by area");
        var table = Page.TableOf(("Start", true), ("Lasted", true), ("From", true), ("Nadir", true), ("Depth", true), ("Area %·s", true), ("Recovery", true), ("Pulse change", true));
        foreach (var e in events.OrderByDescending(e => e.Area).ThenBy(e => e.Start).Take(EventsShown))
        {
            Page.Row(
                table,
                model.Loaded.Recording.Start.ClockAt(e.Start),
                Say.Length(e.End - e.Start),
                $"{e.Baseline.Value:0.#}",
                $"{e.Nadir.Value:0.#}",
                $"{e.Depth.Value:0.#}",
                $"{e.Area.Value:0}",
                e.Recovery is { } r ? Say.Length(r) : "lost",
                e.PulseRateRise is { } rise ? $"{rise:+0;-0;0}" : Say.Nothing);
        }

        page.Show(table);
    }

    private static void Replayed(Page page, ReviewModel model, ReplayModel replay)
    {
        page.Heading($"Replayed under \"{replay.Settings.Name}\"");
        page.Text(Say.Settings(replay.Settings.Settings) + ".");
        var table = Page.TableOf(("Signals of", false), ("Kind", false), ("Starts", true), ("Active for", true));
        foreach (var group in replay.Signals.GroupBy(s => s.Condition).OrderBy(g => g.Key))
        {
            var active = group.Aggregate(Time.Duration.Zero, (sum, s) => sum + s.Active);
            Page.Row(table, Say.Condition(group.Key), Alarms.AlarmConditions.IsPhysiological(group.Key) ? "physiological" : "technical", $"{group.Count()}", Say.Length(active));
        }

        if (replay.Signals.Count > 0) page.Show(table);
        double days = model.SpO2.Valid.Hours / 24, connectedDays = model.SpO2.Connected.Hours / 24;
        int physiological = replay.Physiological.Count(), technical = replay.Technical.Count();
        page.Text($"Physiological: {physiological} signals, {Say.Number(days > 0 ? physiological / days : null, "0.0")} a patient-day of valid time ({Say.Length(model.SpO2.Valid)}). "
            + $"Technical: {technical}, {Say.Number(connectedDays > 0 ? technical / connectedDays : null, "0.0")} a patient-day connected ({Say.Length(model.SpO2.Connected)}). The two are never added together (R12).");
        int missed = replay.Answers.Count(a => a.Verdict == CatchVerdict.Missed), late = replay.Answers.Count(a => a.Verdict == CatchVerdict.Late);
        page.Text($"Must-catch events under these settings: {replay.Answers.Count - missed - late} in time, {late} late, {missed} missed.");
    }

    private static void Hours(Page page, ReviewModel model)
    {
        page.Heading("Hour by hour, in words");
        foreach (var hour in model.Review.Hours.Take(HoursShown))
            page.Bullet($"{model.Loaded.Recording.Start.ClockAt(hour.Span.Start)}  {hour.Words}");
        if (model.Review.Hours.Count > HoursShown) page.Note($"  {model.Review.Hours.Count - HoursShown} more hours: see --json.");
    }
}
