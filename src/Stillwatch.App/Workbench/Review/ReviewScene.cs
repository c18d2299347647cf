using Stillwatch.Alarms;
using Stillwatch.App.Commands;
using Stillwatch.App.Files;
using Stillwatch.App.Jobs;
using Stillwatch.Conditioning;
using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Workbench.Review;

/// <summary>All that the strips of one open page show. It never changes: a page that shows something else has another one.</summary>
public sealed record ReviewScene
{
    public required StoredRecording Stored { get; init; }

    public required LoadedRecording Loaded { get; init; }

    /// <summary>Null: nothing can be computed, and <see cref="WhyNot"/> says why; what channels there are is drawn all the same.</summary>
    public required ReviewModel? Model { get; init; }

    public Trouble? WhyNot { get; init; }

    public IReadOnlyList<LostStretch> SpO2Lost { get; init; } = [];

    public IReadOnlyList<LostStretch> PulseLost { get; init; } = [];

    /// <summary>What the monitor itself signalled; null: not known.</summary>
    public AlarmLog? Log { get; init; }

    /// <summary>Why a log that is there cannot be used.</summary>
    public Trouble? LogTrouble { get; init; }

    /// <summary>Settings that somebody tries, replayed; null: none are tried.</summary>
    public ReplayModel? Tried { get; init; }

    /// <summary>Marks to show: those of one reviewer, or of all when they are compared.</summary>
    public IReadOnlyList<ReviewMark> Marks { get; init; } = [];

    /// <summary>Channels that are left away.</summary>
    public IReadOnlySet<int> Hidden { get; init; } = new HashSet<int>();

    /// <summary>Somebody looks without knowing the alarms (R14.10): no limit, signal, event or mark is drawn.</summary>
    public bool HidesAlarms { get; init; }

    /// <summary>Shaded in the strips; null: nothing.</summary>
    public TimeSlice? Selection { get; init; }

    public TimeSlice Whole => Stored.Span;

    public SettingsInForce? InForce => Model?.Replay is { } replay ? new SettingsInForce(replay) : null;

    /// <summary>Whether a value counts at all anywhere: a conditioned series takes the place of the raw channel.</summary>
    public bool Has(ChannelKind kind) => kind switch
    {
        ChannelKind.SpO2 => Model is not null,
        ChannelKind.PulseRate => Model?.PulseRate is not null,
        _ => false,
    };
}

/// <summary>What the settings in force at the time would have given.</summary>
public sealed record SettingsInForce(ReplayModel Replay)
{
    public AlarmSettings Settings => Replay.Settings.Settings;
}

/// <summary>Makes scenes by the roads that the commands take.</summary>
internal static class ReviewScenes
{
    /// <param name="stored">The recording in the library.</param>
    /// <param name="loaded">The same with its judged channels.</param>
    /// <param name="marks">Marks that may change what is must-catch.</param>
    public static ReviewScene Of(StoredRecording stored, LoadedRecording loaded, IReadOnlyList<ReviewMark> marks)
    {
        var (model, whyNot) = ModelOf(stored, loaded, marks);
        var (log, logTrouble) = LogOf(loaded);
        return new ReviewScene
        {
            Stored = stored,
            Loaded = loaded,
            Model = model,
            WhyNot = whyNot,
            SpO2Lost = model is null ? [] : LostStretches.Of(model.Source, model.Conditioning, model.SpO2),
            PulseLost = model?.PulseRate is { } pulse ? LostStretches.Of(ConditionedSource.PulseRateOf(loaded.Recording)!, model.Conditioning, pulse) : [],
            Log = log,
            LogTrouble = logTrouble,
            Marks = marks,
        };
    }

    /// <summary>The same scene after marks changed.</summary>
    public static ReviewScene WithMarks(ReviewScene scene, IReadOnlyList<ReviewMark> marks)
    {
        if (scene.Model is not { } before) return scene with { Marks = marks };
        var side = SidesOf(scene.Loaded, marks);
        var (events, marked) = ReviewJob.MustCatch(scene.Loaded, before.Source, before.Conditioning, before.Definition, side);
        var model = before with
        {
            MustCatch = events,
            MarkWords = ReviewJob.MarkWords(scene.Loaded, marked),
            Replay = before.Replay is { } replay ? ReviewJob.Replay(scene.Loaded, replay.Settings, events) : null,
        };
        return scene with { Model = model, Marks = marks, Tried = scene.Tried is { } tried ? ReviewJob.Replay(scene.Loaded, tried.Settings, events) : null };
    }

    public static ReviewScene WithTried(ReviewScene scene, NamedSettings? settings) =>
        scene with { Tried = settings is null || scene.Model is null ? null : ReviewJob.Replay(scene.Loaded, settings, scene.Model.MustCatch) };

    public static SideFiles SidesOf(LoadedRecording loaded, IReadOnlyList<ReviewMark> marks) =>
        SideFiles.None with { Marks = marks.Count == 0 ? null : new MarksFile("the review marks of the library", [.. marks.Select(m => (loaded.File.Name, m))], []) { IsFile = false } };

    private static (ReviewModel? Model, Trouble? WhyNot) ModelOf(StoredRecording stored, LoadedRecording loaded, IReadOnlyList<ReviewMark> marks)
    {
        var conditioning = ConditioningSettings.Default;
        var side = SidesOf(loaded, marks) with { Log = LogChoice.Aside };
        try
        {
            if (SettingsForm.Kept(stored.Description.SettingsInForceJson) is { } inForce)
            {
                side = side with { Settings = new SettingsFile("the settings in force", [inForce with { Category = null }]) { IsFile = false }, Log = LogChoice.Default };
            }

            return (ReviewJob.Of(loaded, conditioning, side), null);
        }
        catch (StopException e) when (e.ExitCode == ExitCode.NothingComputable)
        {
            return (null, e.Trouble);
        }
        catch (StopException)
        {
            // The log cannot be joined to the recording: that is said beside its lane, and the review stands without it.
            return (ReviewJob.Of(loaded, conditioning, side with { Log = LogChoice.Aside }), null);
        }
    }

    private static (AlarmLog? Log, Trouble? Trouble) LogOf(LoadedRecording loaded)
    {
        try
        {
            return (FidelityJob.LogOf(loaded), null);
        }
        catch (StopException e)
        {
            return (null, e.Trouble);
        }
    }

    /// <summary>The reason of a lost stretch in words.</summary>
    public static string InWords(this LossReason reason) => reason switch
    {
        LossReason.NoRow => "no rows",
        LossReason.NoNumber => "no number",
        LossReason.FlaggedBySource => "flagged by the source",
        LossReason.OutOfRange => "no measurement (0 or above 100)",
        LossReason.PoorQuality => "poor quality",
        LossReason.DoubtedJump => "doubted jump",
        _ => "averaging not filled",
    };
}
