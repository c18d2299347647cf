using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Plots;

/// <summary>What is paid for quiet: load against the slowest signal of a must-catch event.</summary>
internal static class FrontPlot
{
    private const double Width = 1000;
    private const double Height = 330;
    private const double Left = 74;
    private const double Right = 960;
    private const double Top = 34;
    private const double Bottom = 276;

    public static Picture Draw(SettingsSection section, string id)
    {
        var front = (section.Proposal?.Front ?? []).OrderBy(f => f.SignalsPerDay).ToList();
        var marked = MapMark.Of(section.Proposal, section.AskedAbout).Select(m => (Mark: m, m.Evidence))
            .Where(m => m.Evidence.WorstTimeToSignal is not null).ToList();
        // One dot is no choice between quiet and speed.
        if (front.Count < 2) return Picture.None;
        double loadTop = Ticks.Top(front.Select(f => f.SignalsPerDay).Concat(marked.Select(m => m.Evidence.SignalsPerDay.Value)).Max(), 6);
        double waitTop = Ticks.Top(front.Select(f => f.WorstTimeToSignal).Concat(marked.Select(m => m.Evidence.WorstTimeToSignal!.Value)).Max().Seconds, 5);
        var load = new LinearScale(0, loadTop, Left, Right);
        var wait = new LinearScale(0, waitTop, Bottom, Top);
        var canvas = new Canvas(id, Width, Height, "Quiet against time to signal", Sentences.Front(section));
        foreach (double tick in Ticks.Round(0, waitTop, 5))
        {
            canvas.Line(Left, wait.At(tick), Right, wait.At(tick), Paint.Line(Ink.Grid));
            canvas.Text(Left - 7, wait.At(tick) + 4, Words.Number(tick, tick % 1 == 0 ? 0 : 1), TextStyle.Tick with { Anchor = Anchor.End });
        }

        foreach (double tick in Ticks.Round(0, loadTop, 8))
        {
            canvas.Line(load.At(tick), Top, load.At(tick), Bottom, Paint.Line(Ink.Grid));
            canvas.Text(load.At(tick), Bottom + 17, tick.ToString("0.###", System.Globalization.CultureInfo.InvariantCulture), TextStyle.Tick);
        }

        var path = new PathText();
        for (int i = 0; i < front.Count; i++)
        {
            double x = load.At(front[i].SignalsPerDay), y = wait.At(front[i].WorstTimeToSignal.Seconds);
            if (i == 0) path.MoveTo(x, y);
            else path.LineTo(x, wait.At(front[i - 1].WorstTimeToSignal.Seconds)).LineTo(x, y);
        }

        canvas.Path(path, Paint.Line(Ink.Envelope, 2));
        foreach (var point in front)
        {
            canvas.Circle(load.At(point.SignalsPerDay), wait.At(point.WorstTimeToSignal.Seconds), 4.5, new Paint(point.IsInsideBounds ? Ink.Trace : Ink.Paper, Ink.Trace, 1.6),
                $"{SettingsWords.Full(point.Settings)}: {Words.Rate(point.SignalsPerDay)} signals per patient-day, slowest after {Words.Span(point.WorstTimeToSignal)}");
        }

        MarkAll(canvas, marked, load, wait);
        canvas.Line(Left, Top, Left, Bottom, Paint.Line(Ink.Axis));
        canvas.Line(Left, Bottom, Right, Bottom, Paint.Line(Ink.Axis));
        canvas.Text(0, 16, "Slowest signal of a must-catch event, seconds after its onset", new TextStyle(Bold: true));
        canvas.Text((Left + Right) / 2, Bottom + 40, "Physiological alarm signals per patient-day", new TextStyle(Anchor: Anchor.Middle, Bold: true));
        return canvas.Finish();
    }

    private static void MarkAll(Canvas canvas, List<(MapMark Mark, CandidateEvidence Evidence)> marked, LinearScale load, LinearScale wait)
    {
        var points = marked.Select(m => (m.Mark, X: load.At(m.Evidence.SignalsPerDay.Value), Y: wait.At(m.Evidence.WorstTimeToSignal!.Value.Seconds))).ToList();
        double[] labels = Labels.Spread([.. points.Select(p => p.Y - 14)], 18, Top + 6, Bottom - 6);
        var style = new TextStyle(Bold: true, Halo: Ink.Paper);
        for (int i = 0; i < points.Count; i++)
        {
            var (mark, x, y) = points[i];
            switch (mark.Kind)
            {
                case MapMarkKind.Present: Marks.Present(canvas, x, y); break;
                case MapMarkKind.Proposed: Marks.Proposed(canvas, x, y); break;
                default: Marks.LookedAt(canvas, x, y); break;
            }

            bool toLeft = x + 16 + style.WidthOf(mark.Label) > Right + 30;
            canvas.Text(toLeft ? x - 16 : x + 16, labels[i] + 4, mark.Label, style with { Anchor = toLeft ? Anchor.End : Anchor.Start });
        }
    }
}
