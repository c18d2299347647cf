using System.Text.Json;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>The keys that other programs build on. Adding one is allowed and is seen here; removing or renaming one is not.</summary>
public sealed class JsonShapeTests : IDisposable
{
    private readonly Folder folder = new();

    public JsonShapeTests()
    {
        folder.WriteNight("night.csv");
        folder.Write("settings.json", """
            { "format": "stillwatch.settings/1", "settings": [ { "name": "tried", "spo2Low": { "limit": 90, "delaySeconds": 15 }, "backstop": { "limit": 80, "delaySeconds": 5 } } ] }
            """);
    }

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Inspect_has_its_keys()
    {
        var json = Ran.With("inspect", folder["night.csv"], "--json").Json();
        Keys(json, "recordings unreadable");
        var recording = json.GetProperty("recordings")[0];
        Keys(recording, "file fileFormat sha256 patient category categoryAssumed oxygen sourceAveragingSeconds start startKnown startWords durationSeconds channels annotations annotationTexts issues");
        Keys(recording.GetProperty("channels")[0], "label kind unit rateHz even samples validSamples min max mean");
        Assert.Equal("2026-03-02T22:00:00", recording.GetProperty("start").GetString());
        Assert.True(recording.GetProperty("startKnown").GetBoolean());
        Assert.Equal(10_800, recording.GetProperty("durationSeconds").GetDouble());
        Assert.Equal("spo2", recording.GetProperty("channels")[0].GetProperty("kind").GetString());
        Assert.Equal(78, recording.GetProperty("channels")[0].GetProperty("min").GetDouble());
    }

    [Fact]
    public void Silent_stretches_are_drawn_for_blind_review_and_reviewing_them_lowers_the_share_not_reviewed() // R14.10
    {
        var proposal = Ran.With("tune", folder["night.csv"], "--json").Json().GetProperty("proposal");
        var drawn = proposal.GetProperty("toReviewWithoutAlarms").EnumerateArray().ToList();
        Assert.NotEmpty(drawn);
        Assert.Equal(1, proposal.GetProperty("shareNotReviewed").GetDouble());
        string reviewed = string.Join(", ", drawn.Select(d => $$"""{ "file": "{{d.GetProperty("file")}}", "startSeconds": {{d.GetProperty("startSeconds")}}, "endSeconds": {{d.GetProperty("endSeconds")}} }"""));
        string marks = folder.Write("marks.json", $$"""{ "format": "stillwatch.marks/1", "marks": [], "reviewedWithoutAlarms": [ {{reviewed}} ] }""");
        var after = Ran.With("tune", folder["night.csv"], "--marks", marks, "--json").Json().GetProperty("proposal");
        Assert.InRange(after.GetProperty("shareNotReviewed").GetDouble(), 0, 0.9);
    }

    [Fact]
    public void Inspect_counts_the_numbers_present_before_any_validity_rule()
    {
        folder.Write("gaps.csv", "Time,SpO2\n0,97\n1,\n2,0\n3,98\n");
        var channel = Ran.With("inspect", folder["gaps.csv"], "--json").Json().GetProperty("recordings")[0].GetProperty("channels")[0];
        Assert.Equal(4, channel.GetProperty("samples").GetInt32());
        Assert.Equal(3, channel.GetProperty("validSamples").GetInt32());
        Assert.Equal(0, channel.GetProperty("min").GetDouble());
        Assert.Equal(65, channel.GetProperty("mean").GetDouble());
    }

    [Fact]
    public void An_issue_has_its_keys_and_an_unknown_start_is_null()
    {
        folder.Write("elapsed.csv", "Time,SpO2\n0,97\n1,97\n1,96\n2,98\nThe end,\n");
        var recording = Ran.With("inspect", folder["elapsed.csv"], "--json").Json().GetProperty("recordings")[0];
        Assert.Equal(JsonValueKind.Null, recording.GetProperty("start").ValueKind);
        Assert.False(recording.GetProperty("startKnown").GetBoolean());
        Assert.NotEqual(0, recording.GetProperty("issues").GetArrayLength());
        Keys(recording.GetProperty("issues")[0], "severity code place found expected assumed count");
    }

    [Fact]
    public void Review_has_its_keys()
    {
        var json = Ran.With("review", folder["night.csv"], "--averaging", "3", "--json").Json();
        Keys(json, "file sha256 patient category categoryAssumed oxygen sourceAveragingSeconds channel definition averagingSeconds monitoredHours validHours coverage exposure events hours notApplicable mustCatchDefinition mustCatch issues");
        Assert.Equal(3, json.GetProperty("averagingSeconds").GetDouble());
        Assert.Equal(JsonValueKind.Null, json.GetProperty("sourceAveragingSeconds").ValueKind);
        Assert.Equal(3, json.GetProperty("monitoredHours").GetDouble());
        var exposure = json.GetProperty("exposure");
        Keys(exposure, "minutesBelow percentBelow minutesPerHourBelow mean median p1 p5 min odi3 odi4 areaBelow90PerHour histogramMinutes");
        Keys(exposure.GetProperty("minutesBelow"), "90 88 85 80");
        Keys(exposure.GetProperty("percentBelow"), "90 88 85 80");
        Keys(json.GetProperty("events")[0], "startSeconds endSeconds nadirSeconds nadir baseline depth areaPercentSeconds recoverySeconds pulseRateRise fallOf4");
        Assert.Equal(3, json.GetProperty("hours").GetArrayLength());
        Keys(json.GetProperty("hours")[0], "number clock startSeconds endSeconds validMinutes minutesBelow events clusters median changeFromBaseline words");
        Keys(json.GetProperty("mustCatch")[0], "onset end nadir parts");
        Keys(json.GetProperty("mustCatch")[0].GetProperty("parts")[0], "onset end withinSeconds because");
    }

    [Fact]
    public void Review_under_settings_adds_signals_and_verdicts()
    {
        var json = Ran.With("review", folder["night.csv"], "--settings", folder["settings.json"], "--json").Json();
        Assert.Equal(3, json.GetProperty("signals").GetArrayLength());
        Keys(json.GetProperty("signals")[0], "condition physiological startSeconds endSeconds activeSeconds ending priority");
        Keys(json.GetProperty("mustCatch")[0], "onset end nadir parts verdict secondsToSignal");
        Assert.Equal("inTime", json.GetProperty("mustCatch")[0].GetProperty("verdict").GetString());
        Assert.Equal("tried", json.GetProperty("settings").GetProperty("name").GetString());
    }

    [Fact]
    public void Tune_has_its_keys()
    {
        var json = Ran.With("tune", folder["night.csv"], "--present", folder["settings.json"], "--limits", "85..100/5", "--delays", "0..60/15", "--areas", "0..100/50", "--clear-margin", "1", "--json").Json();
        Keys(json, "averagingSeconds sourceAveragingSeconds monitoredHours validHours patients patientsAssumed recordings map areaMap mustCatch proposal groups present settings fidelity notComputable leftOut unreadable");
        Keys(json.GetProperty("recordings")[0], "file sha256 patient category categoryAssumed oxygen sourceAveragingSeconds channel mustCatchDefinition issues");
        Keys(json.GetProperty("map"), "limits delaysSeconds signals signalMinutes missed late");
        Keys(json.GetProperty("areaMap"), "limits areas signals signalMinutes missed late");
        Keys(json.GetProperty("proposal"), "settings load loadInterval signalMinutesPerDay technicalPerDay mustCatchEvents missed missedUpperBound missedUpperBoundPatients late worstSecondsToSignal medianSecondsToSignal refusedBecause caveats signalledEarlier shareNotReviewed toReviewWithoutAlarms lookedAt present");
        Keys(json.GetProperty("present"), "sets signals signalMinutes load technicalSignals technicalLoad missed late worstSecondsToSignal");
        Assert.Equal(JsonValueKind.Null, json.GetProperty("settings").ValueKind);
        Assert.Equal([85, 90, 95, 100], Numbers(json.GetProperty("map").GetProperty("limits")));
        Assert.Equal([0, 15, 30, 45, 60], Numbers(json.GetProperty("map").GetProperty("delaysSeconds")));
        Assert.Equal([0, 50, 100], Numbers(json.GetProperty("areaMap").GetProperty("areas")));
    }

    [Fact]
    public void The_outer_index_of_a_map_is_the_limit_and_a_cell_that_cannot_be_is_null()
    {
        var map = Ran.With("tune", folder["night.csv"], "--limits", "85..100/5", "--delays", "0..60/15", "--clear-margin", "1", "--json").Json().GetProperty("map");
        foreach (string plane in new[] { "signals", "signalMinutes", "missed", "late" })
        {
            Assert.Equal(4, map.GetProperty(plane).GetArrayLength());
            Assert.All(map.GetProperty(plane).EnumerateArray(), row => Assert.Equal(5, row.GetArrayLength()));
            // R7: 100 + 1 > 100.
            Assert.All(map.GetProperty(plane)[3].EnumerateArray(), cell => Assert.Equal(JsonValueKind.Null, cell.ValueKind));
        }

        // Limit 90: a long and a short fall in each of three hours; a delay of 15 s lets the short one (14 s) pass.
        Assert.Equal([6, 3, 3, 3, 3], Numbers(map.GetProperty("signals")[1]));
    }

    [Fact]
    public void The_map_and_the_replay_of_the_same_settings_agree()
    {
        var json = Ran.With("tune", folder["night.csv"], "--settings", folder["settings.json"], "--limits", "90", "--delays", "15", "--json").Json();
        Assert.Equal(json.GetProperty("map").GetProperty("signals")[0][0].GetInt32(), json.GetProperty("settings").GetProperty("signals").GetInt32());
    }

    [Fact]
    public void Ward_has_its_keys()
    {
        Directory.CreateDirectory(folder["ward"]);
        File.Copy(folder["night.csv"], folder["ward/a.csv"]);
        var json = Ran.With("ward", folder["ward"], "--json").Json();
        Keys(json, "settingsFrom monitoredHours validHours load medianPatientLoad shareOfTopTenth patientsAssumed patients conditions clockHours groups recordings notComputable leftOut unreadable");
        Assert.Equal("preset", json.GetProperty("settingsFrom").GetString());
        Keys(json.GetProperty("patients")[0], "patient category categoryAssumed recordings validHours signals signalMinutes load connectedHours technicalSignals technicalLoad share technicalShare mustCatchEvents missed late");
        Keys(json.GetProperty("groups")[0], "group categoryAssumed patients recordings validHours signals signalMinutes load connectedHours technicalSignals technicalLoad mustCatchEvents");
        Assert.True(json.GetProperty("patients")[0].GetProperty("categoryAssumed").GetBoolean());
    }

    [Theory]
    [InlineData("inspect")]
    [InlineData("review")]
    [InlineData("tune")]
    public void No_byte_order_mark_no_NaN_and_one_line_feed_at_the_end(string command)
    {
        string text = Ran.With(command, folder["night.csv"], "--json").Out;
        Assert.Equal('{', text[0]);
        Assert.EndsWith("}\n", text, StringComparison.Ordinal);
        Assert.False(text.EndsWith("\n\n", StringComparison.Ordinal));
        Assert.DoesNotContain("NaN", text, StringComparison.Ordinal);
        Assert.DoesNotContain("Infinity", text, StringComparison.Ordinal);
        Assert.DoesNotContain('\r', text);
    }

    private static void Keys(JsonElement element, string expected) =>
        Assert.Equal(expected.Split(' ').Order(StringComparer.Ordinal), element.EnumerateObject().Select(p => p.Name).Order(StringComparer.Ordinal));

    private static double[] Numbers(JsonElement list) => [.. list.EnumerateArray().Select(e => e.GetDouble())];
}
