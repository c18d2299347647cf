using System.Globalization;
using Stillwatch.Accuracy.Page;
using Stillwatch.Oxygenation.Dissociation;

namespace Stillwatch.Accuracy.Rows;

/// <summary>The published fit beside the published points.</summary>
internal static class StandardCurveRow
{
    public static IEnumerable<AccuracyRow> Of()
    {
        var points = Points().ToList();
        return
        [
            new AccuracyRow
            {
                Key = "standard-curve",
                Origin = "doi 10.1152/jappl.1979.46.3.599",
                Data = "all 51 points of the standard dissociation curve of 1979",
                Source = "Severinghaus, J Appl Physiol 46(3):599-602 (1979), doi 10.1152/jappl.1979.46.3.599, Table 1 (secondary copy) and equation 1 (stated there: within ± 0.55 %)",
                Method = "Saturation by equation 1 at each pressure of the table, less the table's.",
                Figures =
                [
                    new Figure("largest error of equation 1", points.Max(p => Math.Abs(Error(p))), "%", 3, Reach.AtMost(0.55, "%")),
                    new Figure("at", points.MaxBy(p => Math.Abs(Error(p))).Torr, "Torr", 0),
                    new Figure("points", points.Count, "", 0),
                ],
            },
        ];
    }

    private static double Error((double Torr, double Percent) point) => SeveringhausCurve.SaturationAt(GasPressure.FromTorr(point.Torr)).Percent - point.Percent;

    private static IEnumerable<(double Torr, double Percent)> Points()
    {
        using var table = typeof(StandardCurveRow).Assembly.GetManifestResourceStream("standard-curve-1979.txt") ?? throw new InvalidOperationException("The table of the standard curve is not built in.");
        using var text = new StreamReader(table);
        foreach (string line in text.ReadToEnd().Split('\n').Where(l => l.Length > 0 && l[0] != '#'))
        {
            double[] cells = [.. line.Split('|', StringSplitOptions.TrimEntries).Select(c => double.Parse(c, CultureInfo.InvariantCulture))];
            yield return (cells[0], cells[1]);
        }
    }
}
