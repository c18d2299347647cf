using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Replay;
using Stillwatch.Reports.Model;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Jobs;

/// <summary>From a recording to what happened in it.</summary>
internal static class ReviewJob
{
    /// <exception cref="StopException">Exit code 4: no SpO2, or no valid value of it.</exception>
    public static ReviewModel Of(LoadedRecording loaded, ConditioningSettings conditioning, SideFiles side)
    {
        var source = SpO2Of(loaded, conditioning, out string? whyNot)
            ?? throw StopException.NothingComputable(new Trouble(
                $"nothing can be computed from {loaded.File.Path}", whyNot!, "an SpO2 channel with valid values", loaded.File.Path,
                "the SpO2 column has another name (--channel or --map), or the sensor was off throughout; see stillwatch inspect"));
        var definition = DefinitionFor(loaded, side);
        var (events, marks) = MustCatch(loaded, source, conditioning, definition, side);
        var pulse = ConditionedSource.PulseRateOf(loaded.Recording);
        var replay = side.Settings is { } file ? Replay(loaded, SideFiles.SetFor(file, loaded.Category), events) : null;
        return new ReviewModel
        {
            Loaded = loaded,
            Conditioning = conditioning,
            Source = source,
            SpO2 = ConditionedSeries.Of(source, conditioning),
            PulseRate = pulse is null ? null : ConditionedSeries.Of(pulse, conditioning),
            Review = RecordingReviewer.Review(loaded.Recording, source, conditioning, new ReviewOptions(TargetFor(loaded.Category))),
            Definition = definition,
            MustCatch = events,
            MarkWords = MarkWords(loaded, marks),
            Replay = replay,
            Fidelity = replay is null ? null : FidelityJob.Of(loaded, replay, side.Log),
            LogNotCompared = replay is null ? FidelityJob.WhyNotCompared([loaded], side.Log, "--settings") : null,
        };
    }

    /// <summary>The SpO2 of a recording, if anything can be computed from it.</summary>
    public static ConditionedSource? SpO2Of(LoadedRecording loaded, ConditioningSettings conditioning, out string? whyNot)
    {
        whyNot = null;
        var source = ConditionedSource.SpO2Of(loaded.Recording);
        if (source is null) whyNot = "no column that is SpO2";
        else if (source.Channel.Times.Count == 0) whyNot = $"no row in channel '{source.Channel.Label}'";
        else if (ConditionedSeries.Of(source, conditioning with { Averaging = Duration.Zero }).Valid <= Duration.Zero) whyNot = $"no valid value in channel '{source.Channel.Label}' ({source.Channel.Times.Count} rows)";
        return whyNot is null ? source : null;
    }

    /// <summary>The SpO2 column in use, and of how many: <c>SpO2 1 (of 5)</c>.</summary>
    public static string ChannelWords(LoadedRecording loaded, ConditionedSource source)
    {
        int several = loaded.Recording.Channels.Count(c => c.Kind == ChannelKind.SpO2);
        return several > 1 ? $"{source.Channel.Label} (of {several})" : source.Channel.Label;
    }

    public static MustCatchDefinition DefinitionFor(LoadedRecording loaded, SideFiles side) =>
        side.MustCatch?.For(loaded.Category) ?? MustCatchDefinitions.For(loaded.Category.Category);

    /// <summary>The must-catch events after the reviewers had their say; the second is null without marks on this file.</summary>
    public static (IReadOnlyList<MustCatchEvent> Events, MarkedResult? Marks) MustCatch(
        LoadedRecording loaded, ConditionedSource source, ConditioningSettings conditioning, MustCatchDefinition definition, SideFiles side)
    {
        var series = MustCatchFinder.SeriesFor(source, conditioning);
        var events = MustCatchFinder.Find(series, definition);
        var marks = side.Marks?.MarksOn(loaded.File.Name) ?? [];
        if (marks.Count == 0) return (events, null);
        var marked = MarkedEvents.Apply(series, events, marks);
        return (marked.Events, marked);
    }

    public static ReplayModel Replay(LoadedRecording loaded, NamedSettings settings, IReadOnlyList<MustCatchEvent> events)
    {
        var signals = Replayer.Run(loaded.Recording, settings.Settings).Signals;
        return new ReplayModel(settings, signals, [.. events.Select(e => AnswerTo(e, signals))]);
    }

    public static IReadOnlyList<string> MarkWords(LoadedRecording loaded, MarkedResult? marks)
    {
        if (marks is null) return [];
        var start = loaded.Recording.Start;
        return
        [
            .. marks.Decisions.Select(d => $"Review marks, event at {start.ClockAt(d.Event.Onset)}: {d.Outcome switch { MarkOutcome.Removed => "no longer must-catch", MarkOutcome.Added => "must-catch by mark", _ => "stays must-catch" }}. {d.Because}"),
            .. marks.Unused.Select(u => $"Review mark of {u.Mark.Reviewer} at {start.ClockAt(u.Mark.Span.Start)} changes nothing. {u.Because}"),
        ];
    }

    private static CatchAnswer AnswerTo(MustCatchEvent mustCatch, IReadOnlyList<ReplayedSignal> signals)
    {
        var (verdict, time) = CatchJudge.Judge(mustCatch, signals);
        return new CatchAnswer(verdict, time);
    }

    /// <summary>Time in target is for those who are given oxygen towards one; an adult on air above 98 % is not "above target".</summary>
    private static TargetRange? TargetFor(CategoryChoice category) =>
        category.Category is PatientCategory.NeonatalOnOxygen or PatientCategory.AdultHypercapnicRisk && category.Preset.Target is { } target
            ? new TargetRange(target.Value.Low, target.Value.High)
            : null;
}
