using System.Globalization;

namespace Stillwatch.Oximetry.Calibration;

/// <summary>A user's calibration in text: a first line "ratio,spo2", then a point on each line; blank lines and lines that begin with # are passed over.</summary>
public static class CurveTable
{
    /// <summary>Longer tables are refused: a calibration has dozens of points, not thousands.</summary>
    public const int MostPoints = 1000;

    private const string Header = "ratio,spo2";

    /// <param name="text">The whole text.</param>
    /// <param name="origin">Where it was read from, for errors and for <see cref="CalibrationCurve.Source"/>.</param>
    /// <exception cref="CurveTableException">The text is no such table.</exception>
    public static TabledCurve Parse(string text, string origin)
    {
        ArgumentNullException.ThrowIfNull(text);
        var points = new List<CurvePoint>();
        int number = 0;
        bool headed = false;
        foreach (var raw in text.AsSpan().EnumerateLines())
        {
            number++;
            var line = raw.TrimStart('\uFEFF').Trim();
            if (line.IsEmpty || line[0] == '#') continue;
            if (!headed)
            {
                if (!IsHeader(line)) throw new CurveTableException(origin, number, Show(line), $"the line '{Header}'");
                headed = true;
                continue;
            }

            if (points.Count == MostPoints) throw new CurveTableException(origin, number, $"more than {MostPoints} points", "a calibration of fewer");
            int comma = line.IndexOf(',');
            if (comma < 0 || !Number(line[..comma], out double ratio) || !Number(line[(comma + 1)..], out double saturation))
                throw new CurveTableException(origin, number, Show(line), "two numbers with a comma between them and a decimal point, such as 0.5,97.5");
            points.Add(new CurvePoint(ratio, saturation));
            if (TabledCurve.FaultAt(points, points.Count - 1) is { } fault) throw new CurveTableException(origin, number, fault.Found, fault.Expected);
        }

        if (points.Count < 2) throw new CurveTableException(origin, number, $"{points.Count} points", "at least 2");
        return new TabledCurve(points, origin);
    }

    private static bool IsHeader(ReadOnlySpan<char> line)
    {
        int comma = line.IndexOf(',');
        return comma > 0 && line[..comma].Trim().Equals("ratio", StringComparison.OrdinalIgnoreCase)
            && line[(comma + 1)..].Trim().Equals("spo2", StringComparison.OrdinalIgnoreCase);
    }

    private static bool Number(ReadOnlySpan<char> text, out double value) =>
        double.TryParse(text, NumberStyles.Float, CultureInfo.InvariantCulture, out value) && double.IsFinite(value);

    private static string Show(ReadOnlySpan<char> line) => $"'{(line.Length > 40 ? string.Concat(line[..40], "…") : line.ToString())}'";
}

/// <summary>A text that is no calibration table.</summary>
public sealed class CurveTableException(string origin, int lineNumber, string found, string expected)
    : Exception($"{origin}, line {lineNumber}: found {found}, expected {expected}")
{
    public int LineNumber => lineNumber;

    public string Found => found;

    public string Expected => expected;
}
