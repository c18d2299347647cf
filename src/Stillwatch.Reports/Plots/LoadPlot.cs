using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Plots;

/// <summary>Physiological load under each settings set as a bar, with its interval as a whisker.</summary>
internal static class LoadPlot
{
    private const double Width = 1000;
    private const double Left = 330;
    private const double Right = 870;
    private const double RowHeight = 50;
    private const double Top = 22;

    public static Picture Draw(IReadOnlyList<LoadRow> rows, string id)
    {
        if (rows.Count == 0) return Picture.None;
        double highest = rows.Max(r => Math.Max(r.SignalsPerDay.Value, r.SignalsPerDay.High ?? 0));
        var scale = new LinearScale(0, Ticks.Top(highest, 5), Left, Right);
        double bottom = Top + rows.Count * RowHeight;
        var canvas = new Canvas(id, Width, bottom + 44, "Alarm load before and after", Sentences.Loads(rows));
        foreach (double tick in Ticks.Round(0, scale.To, 5))
        {
            canvas.Line(scale.At(tick), Top - 8, scale.At(tick), bottom, Paint.Line(Ink.Grid));
            canvas.Text(scale.At(tick), bottom + 16, tick.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture), TextStyle.Tick);
        }

        for (int i = 0; i < rows.Count; i++)
        {
            var row = rows[i];
            double y = Top + i * RowHeight, middle = y + 18;
            canvas.Text(0, middle - 2, row.Label, new TextStyle(Bold: true));
            canvas.Text(0, middle + 14, Fit(row.Settings), new TextStyle(TextStyle.Small, Fill: Ink.Muted));
            canvas.Rect(Left, middle - 11, scale.At(row.SignalsPerDay.Value) - Left, 22, row.IsAskedAbout ? new Paint(Ink.Envelope) : i == 0 ? new Paint(Ink.Trace) : new Paint(Ink.Paper, Ink.Proposed, 1.8), $"{row.Label}: {Words.Rate(row.SignalsPerDay.Value)} signals per patient-day");
            double textFrom = scale.At(row.SignalsPerDay.Value);
            if (HasInterval(row.SignalsPerDay))
            {
                double low = row.SignalsPerDay.Low!.Value, high = row.SignalsPerDay.High!.Value;
                var whisker = new PathText().MoveTo(scale.At(low), middle - 6).LineTo(scale.At(low), middle + 6).MoveTo(scale.At(low), middle).LineTo(scale.At(high), middle).MoveTo(scale.At(high), middle - 6).LineTo(scale.At(high), middle + 6);
                canvas.Path(whisker, Paint.Line(Ink.Paper, 4));
                canvas.Path(whisker, Paint.Line(Ink.Text, 1.8));
                textFrom = Math.Max(textFrom, scale.At(high));
            }

            canvas.Text(textFrom + 9, middle + 5, Text(row), new TextStyle(Bold: true));
        }

        canvas.Line(Left, Top - 8, Left, bottom, Paint.Line(Ink.Axis));
        canvas.Text(Left, bottom + 37, "Physiological alarm signals per patient-day of valid time", new TextStyle(Bold: true));
        return canvas.Finish();
    }

    /// <summary>One patient drawn again and again gives no interval, only the same number.</summary>
    public static bool HasInterval(Estimate estimate) => estimate is { Low: { } low, High: { } high } && high > low;

    private static string Text(LoadRow row) => HasInterval(row.SignalsPerDay)
        ? $"{Words.Rate(row.SignalsPerDay.Value)} ({Words.Rate(row.SignalsPerDay.Low!.Value)} to {Words.Rate(row.SignalsPerDay.High!.Value)})"
        : Words.Rate(row.SignalsPerDay.Value);

    private static string Fit(string text)
    {
        var style = new TextStyle(TextStyle.Small);
        if (style.WidthOf(text) <= Left - 16) return text;
        int length = text.Length;
        while (length > 0 && style.WidthOf(text[..length]) > Left - 26) length--;
        return text[..length].TrimEnd(' ', ',', ';') + "…";
    }
}
