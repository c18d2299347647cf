using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>Derived numbers as files: read back by the other commands, and never taken for a monitor's.</summary>
public sealed class DerivedFileTests : IDisposable
{
    private readonly Folder folder = new();
    private readonly string light;

    public DerivedFileTests() => light = folder.Write("light.csv", InventedLight.RedAndInfrared(100, withSensorOff: true));

    public static TheoryData<string> Endings => ["csv", "edf", "bdf", "parquet", "json"];

    public void Dispose() => folder.Dispose();

    [Theory]
    [MemberData(nameof(Endings))]
    public void Derived_numbers_come_back_from_every_format_and_review_reads_them(string ending)
    {
        string to = folder["derived." + ending];
        var derived = Ran.With("derive", light, "--to", to, "--json").Json();
        Assert.Equal(to, derived.GetProperty("output").GetProperty("file").GetString());
        var recording = Ran.With("inspect", to, "--json").Json().GetProperty("recordings")[0];
        string[] labels = [.. recording.GetProperty("channels").EnumerateArray().Select(c => c.GetProperty("label").GetString()!)];
        Assert.Equal(["SpO2 derived", "Pulse derived", "PI derived", "Quality derived", "State derived", "Resp derived"], labels);
        Assert.Equal(8, recording.GetProperty("sourceAveragingSeconds").GetDouble());
        var spO2 = recording.GetProperty("channels")[0];
        Assert.Equal(100, spO2.GetProperty("samples").GetInt32());
        Assert.Equal(derived.GetProperty("secondsValid").GetInt32(), spO2.GetProperty("validSamples").GetInt32());
        var review = Ran.With("review", to, "--json").Json();
        Assert.Equal("SpO2 derived", review.GetProperty("channel").GetString());
        // A format of 16 bits rounds; see its notHeld.
        double mean = derived.GetProperty("perSecond").GetProperty("spo2").EnumerateArray().Where(v => v.ValueKind == JsonValueKind.Number).Average(v => v.GetDouble());
        Assert.Equal(mean, spO2.GetProperty("mean").GetDouble(), 0.02);
    }

    [Theory]
    [MemberData(nameof(Endings))]
    public void Derived_numbers_say_in_every_format_that_no_monitor_gave_them(string ending) // the hazard log names this test
    {
        string to = folder["derived." + ending];
        Ran.With("derive", light, "--to", to);
        var review = Ran.With("review", to, "--json").Json();
        Assert.Contains(review.GetProperty("issues").EnumerateArray(), i => i.GetProperty("code").GetString() == "recording.derived" && i.GetProperty("severity").GetString() == "doubt");
        Assert.Contains("numbers that Stillwatch derived from light", Ran.With("review", to).Words, StringComparison.Ordinal);
        Assert.Contains("notes on derived numbers", Ran.With("inspect", to).Words, StringComparison.Ordinal);
        string manifest = File.ReadAllText(to + ".manifest.json");
        Assert.Contains("not the monitor's reading", manifest, StringComparison.Ordinal);
        using var parsed = JsonDocument.Parse(manifest);
        var made = parsed.RootElement.GetProperty("derived");
        Assert.Equal("linear", made.GetProperty("curve").GetProperty("name").GetString());
        Assert.Equal(0, parsed.RootElement.GetProperty("annotations").GetProperty("source").GetInt32());
        Assert.True(parsed.RootElement.GetProperty("annotations").GetProperty("derived").GetInt32() >= 2);
    }

    [Fact]
    public void A_table_that_lost_its_manifest_still_says_derived()
    {
        string to = folder["derived.csv"];
        Ran.With("derive", light, "--to", to);
        File.Delete(to + ".manifest.json");
        var issues = Ran.With("review", to, "--json").Json().GetProperty("issues").EnumerateArray();
        Assert.Contains(issues, i => i.GetProperty("code").GetString() == "recording.derived");
    }

    [Fact]
    public void A_de_identified_export_of_derived_numbers_is_still_derived()
    {
        Ran.With("derive", light, "--to", folder["derived.json"]);
        Ran.With("export", folder["derived.json"], "--to", folder["shared.json"], "--de-identify", "--secret", folder["secret.txt"], "--without-events");
        var issues = Ran.With("review", folder["shared.json"], "--json").Json().GetProperty("issues").EnumerateArray();
        Assert.Contains(issues, i => i.GetProperty("code").GetString() == "recording.derived");
    }

    [Fact]
    public void A_recording_with_numbers_of_its_own_goes_before_what_was_derived_from_its_light()
    {
        Directory.CreateDirectory(folder["ward"]);
        string[] lines = File.ReadAllText(light).TrimEnd('\n').Split('\n');
        folder.Write("ward/night.csv", lines[0] + ",SpO2,Pulse\n" + string.Join('\n', lines.Skip(1).Select(l => l + ",97,75")) + "\n");
        Assert.Equal(ExitCode.Done, Ran.With("derive", folder["ward/night.csv"], "--to", folder["ward/a-derived.csv"]).ExitCode);
        var ward = Ran.With("ward", folder["ward"], "--json").Json();
        var recording = Assert.Single(ward.GetProperty("recordings").EnumerateArray());
        Assert.Equal("night.csv", recording.GetProperty("file").GetString());
        Assert.Contains("a-derived.csv", ward.GetProperty("notComputable").ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Where_the_source_has_no_numbers_the_derived_ones_are_used()
    {
        Directory.CreateDirectory(folder["ward"]);
        File.Copy(light, folder["ward/light.csv"]);
        Ran.With("derive", folder["ward/light.csv"], "--to", folder["ward/numbers.csv"]);
        var ward = Ran.With("ward", folder["ward"], "--json").Json();
        Assert.Equal("numbers.csv", Assert.Single(ward.GetProperty("recordings").EnumerateArray()).GetProperty("file").GetString());
    }

    [Fact]
    public void Nothing_is_replaced_unless_asked_and_no_input_ever()
    {
        string to = folder.Write("there.csv", "mine\n");
        Assert.Equal(ExitCode.Usage, Ran.With("derive", light, "--to", to).ExitCode);
        Assert.Equal("mine\n", File.ReadAllText(to));
        Assert.Equal(ExitCode.Done, Ran.With("derive", light, "--to", to, "--replace").ExitCode);
        string before = File.ReadAllText(light);
        Assert.Equal(ExitCode.Usage, Ran.With("derive", light, "--to", light, "--replace").ExitCode);
        Assert.Equal(ExitCode.Usage, Ran.With("derive", light, "--report", light).ExitCode);
        Assert.Equal(ExitCode.Usage, Ran.With("derive", light, "--to", folder["x.csv"], "--report", folder["x.csv"]).ExitCode);
        string table = folder.Write("mine.csv", "ratio,spo2\n0.4,99\n1.2,70\n");
        Assert.Equal(ExitCode.Usage, Ran.With("derive", light, "--curve", table, "--to", table, "--replace").ExitCode);
        Assert.Equal(before, File.ReadAllText(light));
        Assert.Equal(ExitCode.Usage, Ran.With("derive", light, "--to", folder["x.docx"]).ExitCode);
        Assert.DoesNotContain(Directory.GetFiles(folder.Path), f => f.EndsWith("draft", StringComparison.Ordinal));
    }

    [Fact]
    public void The_report_has_both_figures_the_curve_and_the_cautions()
    {
        string page = folder["page.html"];
        Assert.Equal(ExitCode.Done, Ran.With("derive", light, "--report", page).ExitCode);
        string html = File.ReadAllText(page);
        Assert.Equal(2, html.Split("<svg").Length - 1);
        foreach (string words in new[] { "20\u00a0s beat by beat", "The whole recording", "textbook approximation", "not the monitor&#39;s reading", "What the words mean", "SpO2 derived, %" })
            Assert.Contains(words, html, StringComparison.Ordinal);
        Assert.DoesNotContain("NaN", html, StringComparison.Ordinal);
    }
}
