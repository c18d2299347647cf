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

    public LoadClasses(double highest)
    {
        int needed = Math.Max(3, Steps.Count(s => s <= highest));
        Lows = [0, double.Epsilon, .. Steps.Take(needed)];
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

    public string Words(int index) => index switch
    {
        0 => "none",
        1 => "under 1",
        _ when index == Count - 1 => $"{Wording.Words.Number(Lows[index], 0)} or more",
        _ => $"{Wording.Words.Number(Lows[index], 0)} to {Wording.Words.Number(Lows[index + 1], 0)}",
    };

    public string ShortWords(int index) => index switch
    {
        0 => "none",
        1 => "<1",
        _ when index == Count - 1 => $"{Wording.Words.Number(Lows[index], 0)}+",
        _ => $"{Wording.Words.Number(Lows[index], 0)}–{Wording.Words.Number(Lows[index + 1], 0)}",
    };
}
