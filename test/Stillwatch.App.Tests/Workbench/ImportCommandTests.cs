using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests.Workbench;

/// <summary><c>import</c>: many files at once, and what is in doubt stays out.</summary>
public sealed class ImportCommandTests : IDisposable
{
    private readonly Folder folder = new();

    private string Data => folder["library"];

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Files_are_stored_once_however_often_they_are_imported()
    {
        folder.WriteNight("night.csv", 600);
        Assert.Equal("stored", State(Ran.With("import", folder["night.csv"], "--data", Data, "--patient", "p-1", "--json")));
        Assert.Equal("thereAlready", State(Ran.With("import", folder["night.csv"], "--data", Data, "--json")));
    }

    [Fact]
    public void A_file_that_cannot_be_read_stops_no_other_and_the_exit_code_tells()
    {
        folder.WriteNight("good.csv", 600);
        folder.Write("bad.csv", "");
        var ran = Ran.With("import", folder["bad.csv"], folder["good.csv"], "--data", Data, "--json");
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Equal(["notRead", "stored"], ran.Json().GetProperty("files").EnumerateArray().Select(f => f.GetProperty("state").GetString()));
        Assert.Contains("an empty file", ran.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void What_is_in_doubt_is_stored_only_once_that_is_decided()
    {
        folder.Write("two.csv", "Time,SpO2 1,SpO2 2\n2026-03-02T22:00:00,97,91\n2026-03-02T22:00:01,96,90\n");
        var asked = Ran.With("import", folder["two.csv"], "--data", Data);
        Assert.Equal(ExitCode.Unreadable, asked.ExitCode);
        Assert.Contains("0 stored, 0 there already, 1 in doubt, 0 not stored.", asked.Words, StringComparison.Ordinal);
        Assert.Contains("--channel NAME, or --as-read", asked.ErrorWords, StringComparison.Ordinal);

        var decided = Ran.With("import", folder["two.csv"], "--data", Data, "--channel", "SpO2 2", "--json");
        Assert.Equal(ExitCode.Done, decided.ExitCode);
        Assert.Equal("SpO2 2", decided.Json().GetProperty("files")[0].GetProperty("spo2Channel").GetString());
    }

    [Fact]
    public void A_folder_brings_what_its_ward_json_knows()
    {
        using var demo = new SmallDemo();
        var files = Ran.With("import", demo.Path, "--data", Data, "--json").Json().GetProperty("files");
        Assert.Equal(24, files.GetArrayLength());
        Assert.All(files.EnumerateArray(), f => Assert.Equal(("stored", true), (f.GetProperty("state").GetString(), f.GetProperty("invented").GetBoolean())));
        Assert.Equal("patient-01", files[0].GetProperty("patient").GetString());
    }

    private static string? State(Ran ran) => ran.Json().GetProperty("files")[0].GetProperty("state").GetString();
}
