using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;

namespace Stillwatch.Reports.Tests;

/// <summary>Whole pages of invented data, also kept to look at when STILLWATCH_REPORT_SAMPLES names a folder.</summary>
public sealed class SamplePages
{
    [Fact]
    public void A_night_a_group_and_a_ward_give_whole_pages_that_say_they_are_invented()
    {
        var full = new InventedReports(8 * 3600);
        foreach (var (name, model) in new (string, ReportModel)[] { ("night", full.OneNight()), ("adults", full.AdultGroup()), ("ward", full.WholeWard()) })
        {
            var writer = new StringWriter();
            HtmlReport.Write(model, writer);
            string page = writer.ToString();
            Assert.EndsWith("</html>\n", page);
            Assert.Contains("Invented data.", page);
            if (Environment.GetEnvironmentVariable("STILLWATCH_REPORT_SAMPLES") is not { } folder) continue;
            Directory.CreateDirectory(folder);
            File.WriteAllText(Path.Combine(folder, name + ".html"), page);
        }
    }
}
