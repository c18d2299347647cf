using System.Text;
using Stillwatch.App.Commands;
using Stillwatch.Oximetry.Calibration;

namespace Stillwatch.App.Files;

/// <summary>A user's own calibration table (docs/files.md), read from disk.</summary>
internal static class CurveTableFile
{
    private const long MostBytes = 1 << 20;

    /// <exception cref="StopException">Exit code 2: neither a curve's name nor a .csv file; 3: it cannot be read, or is no calibration table.</exception>
    public static CalibrationCurve Read(string path)
    {
        if (!path.EndsWith(".csv", StringComparison.OrdinalIgnoreCase))
        {
            throw StopException.Usage(new Trouble($"no calibration curve '{path}'", $"'{path}'", $"{string.Join(", ", CalibrationCurves.All.Select(c => c.Name))}, or a file ending in .csv",
                "--curve", "the name is misspelled; a table of your own ends in .csv"));
        }

        try
        {
            using var stream = InputFile.OpenRead(path);
            if (stream.Length > MostBytes)
                throw StopException.Unreadable(new Trouble($"cannot read {path}", $"{stream.Length} bytes", $"a calibration table of at most {MostBytes} bytes", path, "a recording was given in place of a calibration table"));
            using var text = new StreamReader(stream, new UTF8Encoding(false, throwOnInvalidBytes: true));
            return CurveTable.Parse(text.ReadToEnd(), Path.GetFileName(path));
        }
        catch (CurveTableException e)
        {
            throw StopException.Unreadable(new Trouble($"cannot read {path}", e.Found, e.Expected, $"{path}, line {e.LineNumber}", "the file is no calibration table: a line \"ratio,spo2\", then a point on each line (docs/files.md)"), e);
        }
        catch (DecoderFallbackException e)
        {
            throw StopException.Unreadable(new Trouble($"cannot read {path}", "bytes that are no UTF-8 text", "a calibration table as text", path, "it was saved by another program as something else"), e);
        }
        catch (Exception e) when (e is IOException or UnauthorizedAccessException or NotSupportedException)
        {
            throw StopException.Unreadable(InputFile.WhyNotOpened(path, e), e);
        }
    }
}
