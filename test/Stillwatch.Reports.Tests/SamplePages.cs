using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;

namespace Stillwatch.Reports.Tests;

/// <summary>Pages to look at: written only when STILLWATCH_REPORT_SAMPLES names a folder.</summary>
public sealed class SamplePages
{
    [Fact]
    public void Sample_pages_are_written_where_asked()
    {
        string? folder = Environment.GetEnvironmentVariable("STILLWATCH_REPORT_SAMPLES");
        Assert.SkipWhen(folder is null, "STILLWATCH_REPORT_SAMPLES is not set: no pages to look at were asked for.");
        Directory.CreateDirectory(folder!);
        var full = new InventedReports(8 * 3600);
        foreach (var (name, model) in new (string, ReportModel)[] { ("night", full.OneNight()), ("adults", full.AdultGroup()), ("ward", full.WholeWard()) })
        {
            using var writer = new StreamWriter(Path.Combine(folder!, name + ".html"));
            HtmlReport.Write(model, writer);
        }
    }
}
