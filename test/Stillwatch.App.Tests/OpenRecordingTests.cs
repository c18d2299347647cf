using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>
/// Real desaturations of four healthy adults breathing less and less oxygen: Hoffman et al., npj Digit Med 5:146 (2022),
/// doi 10.1038/s41746-022-00665-y, public study repository, MIT.
/// </summary>
public sealed class OpenRecordingTests
{
    public static readonly TheoryData<string> Subjects = ["100001", "100002", "100003", "100004"];

    [Theory]
    [MemberData(nameof(Subjects))]
    public void Tune_draws_the_map_and_refuses_a_proposal_from_one_long_event_of_one_person(string subject)
    {
        string path = OpenRecordings.Path($"controlled-desaturation/numerics/{subject}.csv");
        var page = Ran.With("tune", path);
        Assert.Equal(ExitCode.Done, page.ExitCode);
        Assert.Contains("Settings map", page.Out, StringComparison.Ordinal);
        Assert.Contains("No proposal is made", page.Out, StringComparison.Ordinal);
        Assert.Contains("R14.8", page.Out, StringComparison.Ordinal);

        var json = Ran.With("tune", path, "--json").Json();
        Assert.Equal(31, json.GetProperty("map").GetProperty("signals").GetArrayLength());
        Assert.Equal(301, json.GetProperty("map").GetProperty("signals")[0].GetArrayLength());
        var proposal = json.GetProperty("proposal");
        Assert.Equal(JsonValueKind.Null, proposal.GetProperty("settings").ValueKind);
        string[] reasons = [.. proposal.GetProperty("refusedBecause").EnumerateArray().Select(r => r.GetString()!)];
        Assert.Contains(reasons, r => r.Contains("R14.8", StringComparison.Ordinal) && r.Contains("one patient", StringComparison.OrdinalIgnoreCase));
        Assert.Contains(reasons, r => r.Contains("R14.1", StringComparison.Ordinal));
    }

    [Theory]
    [MemberData(nameof(Subjects))]
    public void Inspect_lists_the_traps_of_these_files(string subject)
    {
        var recording = Ran.With("inspect", OpenRecordings.Path($"controlled-desaturation/numerics/{subject}.csv"), "--json").Json().GetProperty("recordings")[0];
        string[] codes = [.. recording.GetProperty("issues").EnumerateArray().Select(i => i.GetProperty("code").GetString()!)];
        Assert.Contains("row.text", codes); // "Collection Halted"
        Assert.Contains("header.misaligned", codes); // values stand five columns to the right of their headers
        Assert.Contains("channel.chosen", codes); // four oximeters
        Assert.Contains("date unknown", recording.GetProperty("startWords").GetString(), StringComparison.Ordinal);
    }

    [Fact]
    public void Another_oximeter_is_taken_by_name_or_by_map()
    {
        string path = OpenRecordings.Path("controlled-desaturation/numerics/100001.csv");
        double Lowest(params string[] options) => Ran.With(["review", path, "--json", .. options]).Json().GetProperty("exposure").GetProperty("min").GetDouble();
        Assert.Equal(70, Lowest("--channel", "SpO2 2"));
        Assert.Equal(70, Lowest("--map", "spo2=\"SpO2 2\",time=Time"));
        Assert.Equal(67, Lowest("--channel", "SpO2 5"));
    }
}
