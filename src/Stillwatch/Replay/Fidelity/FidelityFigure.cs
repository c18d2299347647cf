using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Replay.Fidelity;

/// <summary>How far a replay and a log agree: counts first, shares beside them.</summary>
/// <param name="Logged">Signals of the log in the time that both cover.</param>
/// <param name="Replayed">Signals of the replay in that time.</param>
/// <param name="Differences">Replayed start minus logged start of each matched pair, by size of the signed difference.</param>
public sealed record FidelityFigure(int Logged, int Replayed, IReadOnlyList<Duration> Differences)
{
    public static readonly FidelityFigure None = new(0, 0, []);

    public int Matched => Differences.Count;

    /// <summary>Logged and not replayed.</summary>
    public int Missing => Logged - Matched;

    /// <summary>Replayed and not logged.</summary>
    public int Extra => Replayed - Matched;

    /// <summary>Share of the logged signals that the replay reproduces; null where nothing was logged.</summary>
    public ShareEstimate? OfLogged => ShareEstimate.Of(Matched, Logged);

    /// <summary>Share of the replayed signals that the log has; null where nothing was replayed.</summary>
    public ShareEstimate? OfReplayed => ShareEstimate.Of(Matched, Replayed);

    /// <summary>Both shares in one number, by which changes of settings are ranked: twice the matched over logged and replayed together; 0 without any.</summary>
    public double Agreement => Logged + Replayed == 0 ? 0 : 2.0 * Matched / (Logged + Replayed);

    /// <summary>How far apart the starts of pairs are on average, in milliseconds: of two changes that match as many, the one that also meets the starts is likelier.</summary>
    internal double MeanDistance => Matched == 0 ? 0 : Differences.Average(d => (double)Math.Abs(d.Milliseconds));

    /// <summary>Replayed minus logged, the lower of the two middle ones; null without a pair.</summary>
    public Duration? MedianDifference => Matched == 0 ? null : Differences[(Matched - 1) / 2];

    /// <summary>The farthest from zero; null without a pair.</summary>
    public Duration? WorstDifference => Matched == 0 ? null
        : Math.Abs(Differences[0].Milliseconds) > Math.Abs(Differences[^1].Milliseconds) ? Differences[0] : Differences[^1];

    public static FidelityFigure Sum(IEnumerable<FidelityFigure> figures)
    {
        int logged = 0, replayed = 0;
        var differences = new List<Duration>();
        foreach (var figure in figures)
        {
            logged += figure.Logged;
            replayed += figure.Replayed;
            differences.AddRange(figure.Differences);
        }

        return Of(logged, replayed, differences);
    }

    internal static FidelityFigure Of(int logged, int replayed, IEnumerable<Duration> differences) => new(logged, replayed, [.. differences.Order()]);
}

/// <summary>A share with the exact two-sided 95 % interval around it (Clopper and Pearson, as <see cref="ExactBound"/>).</summary>
/// <remarks>It treats signals as independent; those of one patient are not, so the true interval is wider.</remarks>
public readonly record struct ShareEstimate(double Share, double Low, double High)
{
    private const double EachSide = 0.975; // 95 % between both ends

    public static ShareEstimate? Of(int part, int whole) => whole == 0
        ? null
        : new ShareEstimate((double)part / whole, 1 - ExactBound.Upper(whole - part, whole, EachSide), ExactBound.Upper(part, whole, EachSide));
}
