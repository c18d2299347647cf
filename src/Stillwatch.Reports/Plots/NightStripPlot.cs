using Stillwatch.Quantities;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;

namespace Stillwatch.Reports.Plots;

/// <summary>A recording's SpO2 as a strip small enough for a line of a table: 70 to 100 %, with the low limit.</summary>
internal static class NightStripPlot
{
    private const double Width = 300;
    private const double Height = 40;

    public static Picture Draw(RecordingSection section, string id)
    {
        if (section.SpO2 is not { Pieces.Count: > 0 } spO2) return Picture.None;
        var canvas = new Canvas(id, Width, Height, $"SpO2 of {section.Recording.Name}, 70 to 100 %", Sentences.Overview(section));
        var time = new TimeAxisScale(spO2.Start, spO2.End, 0, Width, new Clock(section.Recording.Start));
        var scale = new LinearScale(70, 101, Height - 1, 1);
        var panel = new TracePanel(canvas, time, scale, 0, Height);
        canvas.Rect(0, 0, Width, Height, new Paint(Ink.Wash));
        panel.Gaps(spO2);
        if (section.PresentSettings?.SpO2Low is { } low) canvas.Line(0, scale.Within((double)low.Limit.Value), Width, scale.Within((double)low.Limit.Value), Paint.Line(Ink.Muted, 1, "4 3"));
        panel.Trace(spO2);
        return canvas.Finish();
    }
}
