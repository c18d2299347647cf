using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Plots;

/// <summary>
/// The steps of the settings map's scale: none, under 1, and then 1, 2, 5, 10 … signals per patient-day. Few enough to be
/// told apart on paper; even steps of ink for even factors of load. Beyond 200 a day it no longer matters how many more.
/// </summary>
internal sealed class LoadClasses
{
    private static readonly double[] Steps = [1, 2, 5, 10, 20, 50, 100, 200];

    private readonly bool whole;

    /// <param name="highest">The highest load to be shown.</param>
    /// <param name="whole">Loads are counts: there is nothing between none and 1.</param>
    public LoadClasses(double highest, bool whole = false)
    {
        this.whole = whole;
        int needed = Math.Max(3, Steps.Count(s => s <= highest));
        Lows = whole ? [0, .. Steps.Take(needed)] : [0, double.Epsilon, .. Steps.Take(needed)];
    }

    /// <summary>Lowest load of each class: nothing, anything above nothing, 1, 2, 5 …</summary>
    public IReadOnlyList<double> Lows { get; }

    public int Count => Lows.Count;

    public int Of(double load)
    {
        int index = Count - 1;
        while (index > 0 && load < Lows[index]) index--;
        return index;
    }

    public double Share(int index) => (double)index / (Count - 1);

    public string Colour(int index) => Ramp.At(Share(index));

    public string ShortWords(int index) => index switch
    {
        0 => "none",
        1 when !whole => "<1",
        _ when index == Count - 1 => $"{Wording.Words.Number(Lows[index], 0)}+",
        _ when whole && Lows[index + 1] - Lows[index] < 2 => Wording.Words.Number(Lows[index], 0),
        _ when whole => $"{Wording.Words.Number(Lows[index], 0)}–{Wording.Words.Number(Lows[index + 1] - 1, 0)}",
        _ => $"{Wording.Words.Number(Lows[index], 0)}–{Wording.Words.Number(Lows[index + 1], 0)}",
    };
}
