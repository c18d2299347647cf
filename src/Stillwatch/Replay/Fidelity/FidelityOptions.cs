using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Replay.Fidelity;

/// <summary>How a replay is compared with a log.</summary>
/// <param name="Tolerance">The greatest difference of starts at which two signals are the same one, itself included.</param>
/// <param name="Offset">Added to every time of the log before it is compared; never anything that nobody asked for.</param>
public sealed record FidelityOptions(Duration Tolerance, Duration Offset)
{
    /// <summary>Unit policy, no source: clocks of monitors and recorders that were set by hand, and delays of one to ten seconds.</summary>
    public static readonly Duration UsualTolerance = new(15_000);

    /// <summary>15 s and, where the source says how long it averages, that much more: an average delays what is seen by up to its length.</summary>
    public static FidelityOptions For(SourceAveraging source) => new(UsualTolerance + (source.Window ?? Duration.Zero), Duration.Zero);
}

/// <summary>From which figure on a replay is taken to be like the monitor.</summary>
public static class FidelityRules
{
    /// <summary>Both shares must reach this, or a proposal bears a caveat. Unit policy, no source.</summary>
    public const double ReproducesFrom = 0.9;

    public static bool Reproduces(FidelityFigure figure) =>
        figure.OfLogged is { Share: >= ReproducesFrom } && figure.OfReplayed is { Share: >= ReproducesFrom };
}
