using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Time;

namespace Stillwatch.Reports.Tests;

/// <summary>Strips of invented data, also kept to look at when STILLWATCH_REPORT_SAMPLES names a folder.</summary>
public sealed class SampleStrips
{
    [Theory]
    [InlineData("whole", 0, 1_000_000, 1200, 620)]
    [InlineData("half-hour", 600, 2400, 1200, 640)]
    [InlineData("twenty-seconds", 900, 920, 1200, 640)]
    [InlineData("tablet", 900, 4500, 736, 600)]
    [InlineData("low", 0, 1_000_000, 1200, 10)]
    public void A_strip_is_drawn_at_the_size_it_is_asked_for_or_taller_where_its_rows_need_it(string name, long from, long to, double width, double height)
    {
        var window = new TimeSlice(InventedStrip.At(from), InventedStrip.At(Math.Min(to, (long)InventedStrip.Whole.Length.Seconds)));
        var view = new StripView(window, width, height) { Selection = new TimeSlice(InventedStrip.At(3000), InventedStrip.At(3400)), Frame = name == "whole" ? new TimeSlice(InventedStrip.At(900), InventedStrip.At(1500)) : null };
        string svg = Reports.Figures.Strip(InventedStrip.Model(view), view);
        var root = PageReader.Parse(svg).Root!;
        Assert.Equal(width, double.Parse(root.Attribute("width")!.Value, System.Globalization.CultureInfo.InvariantCulture));
        double drawn = double.Parse(root.Attribute("height")!.Value, System.Globalization.CultureInfo.InvariantCulture);
        if (name == "low") Assert.InRange(drawn, 300, 600);
        else Assert.Equal(height, drawn);
        if (Environment.GetEnvironmentVariable("STILLWATCH_REPORT_SAMPLES") is not { } folder) return;
        Directory.CreateDirectory(folder);
        File.WriteAllText(Path.Combine(folder, $"strip-{name}.svg"), svg);
    }
}
