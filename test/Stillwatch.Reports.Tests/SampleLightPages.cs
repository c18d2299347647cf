using Stillwatch.Reports.Model;
using Stillwatch.Reports.Tests.Samples;
using Stillwatch.Time;

namespace Stillwatch.Reports.Tests;

/// <summary>Whole pages about invented light, also kept to look at when STILLWATCH_REPORT_SAMPLES names a folder.</summary>
public sealed class SampleLightPages
{
    [Fact]
    public void Red_and_infrared_and_one_pleth_give_whole_pages_that_say_they_are_invented_and_derived()
    {
        var start = new RecordingStart.Local(new DateTime(2026, 3, 2, 21, 50, 12, DateTimeKind.Unspecified));
        foreach (var (name, model) in new (string, LightReportModel)[] { ("light", InventedLight.Page(start: start)), ("pleth", InventedLight.Page(red: false)), ("long", InventedLight.Page(4000)) })
        {
            using var writer = new StringWriter();
            LightReport.Write(model, writer);
            string page = writer.ToString();
            Assert.EndsWith("</html>\n", page);
            Assert.Contains("Invented data.", page);
            Assert.Contains("not the monitor&#39;s reading", page);
            if (Environment.GetEnvironmentVariable("STILLWATCH_REPORT_SAMPLES") is not { } folder) continue;
            Directory.CreateDirectory(folder);
            File.WriteAllText(Path.Combine(folder, name + ".html"), page);
        }
    }
}
