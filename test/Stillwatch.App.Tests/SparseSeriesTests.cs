using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

public sealed class SparseSeriesTests : IDisposable
{
    private readonly Folder folder = new();

    public void Dispose() => folder.Dispose();

    [Fact]
    public void One_value_a_minute_has_exposure_but_no_desaturation_events_and_says_so()
    {
        string night = folder.WriteNight("sparse.csv", 8 * 3600, periodSeconds: 60);
        var page = Ran.With("review", night);
        Assert.Equal(ExitCode.Done, page.ExitCode);
        Assert.Contains("Does not apply: One sample every 60 s: desaturation events, ODI3, ODI4", page.Words, StringComparison.Ordinal);

        var json = Ran.With("review", night, "--json").Json();
        Assert.Equal(JsonValueKind.Null, json.GetProperty("events").ValueKind);
        Assert.Equal(JsonValueKind.Null, json.GetProperty("exposure").GetProperty("odi3").ValueKind);
        Assert.Contains("not defined", json.GetProperty("notApplicable")[0].GetString(), StringComparison.Ordinal);
        Assert.NotEqual(0, json.GetProperty("exposure").GetProperty("minutesBelow").GetProperty("90").GetDouble());
    }
}
