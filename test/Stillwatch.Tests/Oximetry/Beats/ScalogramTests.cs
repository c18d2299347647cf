using CsCheck;
using Stillwatch.Oximetry.Beats;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Beats;

/// <summary>The scalogram against the whole table of local extremes, written out as the paper draws it.</summary>
public class ScalogramTests
{
    [Fact]
    public void It_finds_what_the_whole_table_finds() =>
        Gen.Select(Gen.Int[1, 20], Gen.Int[-5, 5].Array[3, 90]).Sample((distances, values) =>
        {
            var window = values.Select((v, i) => v + 0.5 * Math.Sin(i)).ToArray(); // some equal neighbours, some not
            var scalogram = new Scalogram(90, distances);
            scalogram.Run(window);
            Assert.Equal(Table(window, distances), Enumerable.Range(0, window.Length).Where(scalogram.IsPeak));
            var upsideDown = window.Select(v => -v).ToArray();
            Assert.Equal(Table(upsideDown, distances), Enumerable.Range(0, window.Length).Where(scalogram.IsTrough));
        }, iter: Sampling.Cases(500));

    [Fact]
    public void A_window_in_which_nothing_moves_has_neither()
    {
        var scalogram = new Scalogram(40, 10);
        scalogram.Run(new double[40]);
        Assert.DoesNotContain(true, Enumerable.Range(0, 40).Select(i => scalogram.IsPeak(i) || scalogram.IsTrough(i)));
    }

    private static List<int> Table(double[] x, int distances)
    {
        int most = Math.Min(distances, (x.Length - 1) / 2);
        var table = new bool[most, x.Length];
        for (int k = 1; k <= most; k++)
        {
            for (int i = k; i < x.Length - k; i++) table[k - 1, i] = x[i] > x[i - k] && x[i] > x[i + k];
        }

        var counts = Enumerable.Range(0, most).Select(k => Enumerable.Range(0, x.Length).Count(i => table[k, i])).ToList();
        if (counts.Count == 0 || counts.Max() == 0) return [];
        int reach = counts.IndexOf(counts.Max());
        return [.. Enumerable.Range(0, x.Length).Where(i => Enumerable.Range(0, reach + 1).All(k => table[k, i]))];
    }
}
