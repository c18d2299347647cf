using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;

namespace Stillwatch.Reports.Plots;

/// <summary>Who causes the load: a bar a patient, the loudest first.</summary>
internal static class ContributorsPlot
{
    private const double Width = 1000;
    private const double Left = 240;
    private const double Right = 880;
    private const double Top = 40;
    private const double RowHeight = 30;
    private const int AtMost = 30;

    public static IReadOnlyList<PatientLoad> Sorted(WardSection ward) =>
        [.. ward.Patients.OrderByDescending(p => PerDay(p.PresentSignals, p.Valid) ?? -1).ThenBy(p => p.Patient, StringComparer.Ordinal)];

    /// <summary>Per 24 h of the given time; null without a count or without time.</summary>
    public static double? PerDay(long? signals, Duration over) => signals is { } s && over > Duration.Zero ? s * 24 / over.Hours : null;

    public static Picture Draw(WardSection ward, string id)
    {
        var patients = Sorted(ward).Where(p => PerDay(p.PresentSignals, p.Valid) is not null).Take(AtMost).ToList();
        if (patients.Count == 0) return Picture.None;
        bool hasProposed = patients.Any(p => p.ProposedSignals is not null);
        var scale = new LinearScale(0, Ticks.Top(patients.Max(p => Math.Max(PerDay(p.PresentSignals, p.Valid) ?? 0, PerDay(p.ProposedSignals, p.Valid) ?? 0)), 6), Left, Right);
        double bottom = Top + patients.Count * RowHeight;
        var canvas = new Canvas(id, Width, bottom + 44, "Who causes the alarm load", Sentences.Contributors(ward));
        canvas.Rect(Left, 6, 22, 10, new Paint(Ink.Trace));
        canvas.Text(Left + 28, 15, ward.SettingsInWords, new TextStyle(TextStyle.Small));
        if (hasProposed)
        {
            double x = Left + 50 + new TextStyle(TextStyle.Small).WidthOf(ward.SettingsInWords);
            canvas.Rect(x, 6, 22, 10, new Paint(Ink.Paper, Ink.Proposed, 1.6));
            canvas.Text(x + 28, 15, "proposed settings", new TextStyle(TextStyle.Small));
        }

        foreach (double tick in Ticks.Round(0, scale.To, 6))
        {
            canvas.Line(scale.At(tick), Top - 10, scale.At(tick), bottom, Paint.Line(Ink.Grid));
            canvas.Text(scale.At(tick), bottom + 16, tick.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture), TextStyle.Tick);
        }

        for (int i = 0; i < patients.Count; i++) Row(canvas, patients[i], Top + i * RowHeight, scale, ward.SettingsInWords);
        canvas.Line(Left, Top - 10, Left, bottom, Paint.Line(Ink.Axis));
        canvas.Text(Left, bottom + 37, "Physiological alarm signals per patient-day of valid time", new TextStyle(Bold: true));
        return canvas.Finish();
    }

    private static void Row(Canvas canvas, PatientLoad patient, double y, LinearScale scale, string settings)
    {
        double present = PerDay(patient.PresentSignals, patient.Valid) ?? 0;
        canvas.Text(Left - 9, y + 8, Shorten(patient.Patient), new TextStyle(Anchor: Anchor.End, Bold: true));
        canvas.Text(Left - 9, y + 21, Words.Of(patient.Category, patient.IsCategoryAssumed), new TextStyle(11.5, Anchor.End, Ink.Muted));
        canvas.Rect(Left, y, scale.At(present) - Left, 11, new Paint(Ink.Trace), $"{patient.Patient}: {Words.Rate(present)} a patient-day under {settings}");
        string text = Words.Rate(present);
        double textFrom = scale.At(present);
        if (PerDay(patient.ProposedSignals, patient.Valid) is { } proposed)
        {
            canvas.Rect(Left + 0.8, y + 13, Math.Max(0.5, scale.At(proposed) - Left), 7, new Paint(Ink.Paper, Ink.Proposed, 1.6), $"{patient.Patient}: {Words.Rate(proposed)} under proposed settings");
            text += $" → {Words.Rate(proposed)}";
            textFrom = Math.Max(textFrom, scale.At(proposed));
        }

        canvas.Text(textFrom + 8, y + 14, text, new TextStyle(TextStyle.Small));
    }

    private static string Shorten(string name) => name.Length <= 26 ? name : name[..25] + "…";
}
