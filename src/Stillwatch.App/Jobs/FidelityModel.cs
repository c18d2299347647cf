using Stillwatch.Replay.Fidelity;
using Stillwatch.Signals;

namespace Stillwatch.App.Jobs;

/// <summary>Where a list of the monitor's signals was found.</summary>
public enum LogOrigin
{
    /// <summary>Named with --log.</summary>
    Given,

    /// <summary>Named in ward.json.</summary>
    Ward,

    /// <summary>The recording's own notes.</summary>
    Notes,
}

/// <summary>A replay beside what the monitor itself signalled; page, JSON and report all show this.</summary>
/// <param name="Result">Figures and differences.</param>
/// <param name="Origin">Where the log was found.</param>
/// <param name="Issues">What the reader of the list met.</param>
public sealed record FidelityModel(FidelityResult Result, LogOrigin Origin, IReadOnlyList<ReadIssue> Issues);

/// <summary>The same over several recordings.</summary>
/// <param name="Recordings">Those that have a log, with it.</param>
public sealed record TuneFidelity(IReadOnlyList<(LoadedRecording Loaded, FidelityModel Fidelity)> Recordings)
{
    /// <summary>Null where nothing physiological could be compared.</summary>
    public FidelityFigure? Physiological => Sum(Recordings, f => f.Physiological);

    /// <summary>Null where nothing technical could be compared; never put together with <see cref="Physiological"/> (R12).</summary>
    public FidelityFigure? Technical => Sum(Recordings, f => f.Technical);

    public FidelityModel? Of(LoadedRecording loaded) => Recordings.FirstOrDefault(r => ReferenceEquals(r.Loaded, loaded)).Fidelity;

    /// <summary>What a proposal from these recordings has to say where their replay is not like their monitors.</summary>
    public IReadOnlyList<string> CaveatsOn(IReadOnlyCollection<LoadedRecording> recordings)
    {
        var compared = Recordings.Where(r => recordings.Contains(r.Loaded, ReferenceEqualityComparer.Instance)).ToList();
        if (compared.Count == 0) return [];
        if (Sum(compared, f => f.Physiological) is not { } figure)
            return ["The alarm log of these recordings could not be compared with the replay: whether the present settings given are those of the monitor is not known."];
        return FidelityRules.Reproduces(figure)
            ? []
            : [$"The replay of the present settings does not reproduce the monitor's own log: {FidelityWords.Shares(figure)} (at least {FidelityRules.ReproducesFrom * 100:0} % of both expected; unit policy, no source). Its settings, its averaging or its values are other than those given, so loads and times to signal may be too.{WithoutFar(compared)}"];
    }

    // A log that was kept for part of the night alone is no witness against the settings.
    private static string WithoutFar(List<(LoadedRecording Loaded, FidelityModel Fidelity)> compared)
    {
        int far = compared.Sum(c => c.Fidelity.Result.Lines is { } l ? l.Before + l.After : 0);
        return far > 0 && Sum(compared, r => r.Lines is { } l ? l.Physiological : r.Physiological) is { } without
            ? $" But {far} of the replayed signals lie before a log's first line or after its last, where it may not have been kept; without them: {FidelityWords.Shares(without)}."
            : string.Empty;
    }

    private static FidelityFigure? Sum(IEnumerable<(LoadedRecording Loaded, FidelityModel Fidelity)> recordings, Func<FidelityResult, FidelityFigure?> figure)
    {
        var figures = recordings.Select(r => figure(r.Fidelity.Result)).OfType<FidelityFigure>().ToList();
        return figures.Count == 0 ? null : FidelityFigure.Sum(figures);
    }
}
