using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Physiology;

/// <summary>The 51 points of the standard curve, read from the text table beside this file.</summary>
internal static class StandardCurve
{
    public static IReadOnlyList<(double Torr, double Percent)> Points { get; } =
    [
        .. from line in File.ReadLines(Path.Combine(RuleTables.RepositoryRoot, "test", "Stillwatch.Tests", "Physiology", "standard-curve-1979.txt"))
           where line.Length > 0 && line[0] != '#'
           let cells = new Cells(line)
           select (cells.Number(0), cells.Number(1)),
    ];
}
