using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>What the monitor itself signalled, beside the replay: options, ward.json, pages, JSON, report. All invented here.</summary>
public sealed class AlarmLogTests : IDisposable
{
    private const string SameAsReplay = "Start,Alarm\n22:10:23,SpO2 low\n23:10:23,SpO2 < 90\n00:10:23,SpO2 low\n";
    private const string ShorterDelay = "Start,Alarm\n22:10:18,SpO2 low\n22:30:05,SpO2 low\n23:10:18,SpO2 low\n23:30:05,SpO2 low\n00:10:18,SpO2 low\n00:30:05,SpO2 low\n00:40:00,bed up\n";

    private readonly Folder folder = new();

    public AlarmLogTests()
    {
        folder.WriteNight("night.csv");
        folder.Write("same.csv", SameAsReplay);
        folder.Write("shorter.csv", ShorterDelay);
        folder.Write("settings.json", """
            { "format": "stillwatch.settings/1", "settings": [ { "name": "in force", "spo2Low": { "limit": 90, "delaySeconds": 15 } } ] }
            """);
    }

    public void Dispose() => folder.Dispose();

    [Fact]
    public void A_log_that_the_replay_reproduces_is_said_to_be_reproduced()
    {
        var fidelity = Review("same.csv").Json().GetProperty("fidelity");
        var figure = fidelity.GetProperty("physiological");
        Assert.Equal((3, 3, 3, 0, 0), (Number(figure, "logged"), Number(figure, "replayed"), Number(figure, "matched"), Number(figure, "missing"), Number(figure, "extra")));
        Assert.Equal(1, figure.GetProperty("shareOfLogged").GetDouble());
        Assert.Equal("option", fidelity.GetProperty("logFrom").GetString());
        Assert.DoesNotContain("does not reproduce", Review("same.csv", json: false).Words, StringComparison.Ordinal);
    }

    [Fact]
    public void A_page_says_what_is_missing_why_and_which_single_setting_would_agree()
    {
        string page = Review("shorter.csv", json: false).Words;
        Assert.Contains("Of 6 logged signals the replay reproduces 3 (50 %", page, StringComparison.Ordinal);
        Assert.Contains("22:30:05 SpO2 low (\"SpO2 low\"): beyond the limit for 14 s at most, no longer than the delay of 15 s", page, StringComparison.Ordinal);
        Assert.Contains("SpO2 low: a delay of 10 s in place of 15 s: 6 of 6 logged signals reproduced (100 %), 6 of 6 replayed ones logged (100 %)", page, StringComparison.Ordinal);
        Assert.Contains("In no figure, for their text is not understood: \"bed up\"", page, StringComparison.Ordinal);
        Assert.Contains("The replay does not reproduce the monitor", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_json_has_its_keys()
    {
        var fidelity = Review("shorter.csv").Json().GetProperty("fidelity");
        Keys(fidelity, "log logFrom toleranceSeconds offsetSeconds startSeconds endSeconds spanAssumed notComparedBecause physiological technical conditions pairs missingSignals extraSignals notComparable notUnderstood outsideSpan withoutFarSignals clockDifference betterChanges issues");
        Keys(fidelity.GetProperty("physiological"), "logged replayed matched missing extra shareOfLogged shareOfLoggedInterval shareOfReplayed shareOfReplayedInterval medianDifferenceSeconds worstDifferenceSeconds");
        Keys(fidelity.GetProperty("missingSignals")[0], "condition text startSeconds reasons");
        Keys(fidelity.GetProperty("missingSignals")[0].GetProperty("reasons")[0], "reason words");
        Keys(fidelity.GetProperty("betterChanges")[0], "condition setting words physiological");
        Assert.Equal("tooShort", fidelity.GetProperty("missingSignals")[0].GetProperty("reasons")[0].GetProperty("reason").GetString());
        Assert.Equal(JsonValueKind.Null, fidelity.GetProperty("technical").ValueKind);
    }

    [Fact]
    public void A_log_that_begins_late_is_said_to_first_with_the_figure_without_what_lies_before_it()
    {
        folder.Write("late.csv", "Start,Alarm\n00:10:23,SpO2 low\n");
        string page = Review("late.csv", json: false, more: ["--report", folder["late.html"]]).Words;
        const string words = "The log may have begun later than the recording: its first line is at 00:10:23; 2 replayed signals lie before it. Without them, physiological: 1 of 1 logged signals reproduced (100 %; 2.5–100 %), 1 of 1 replayed ones logged (100 %; 2.5–100 %).";
        Assert.True(page.IndexOf(words, StringComparison.Ordinal) is >= 0 and var first && first < page.IndexOf("Physiological, whole recording: Of 1 logged", StringComparison.Ordinal), page);
        Assert.Contains("22:10:23 SpO2 low: it lies before the log's first line: the log may not have been kept yet", page, StringComparison.Ordinal);
        Assert.DoesNotContain("The replay does not reproduce the monitor", page, StringComparison.Ordinal);
        string report = File.ReadAllText(folder["late.html"]);
        Assert.Contains("The log may have begun later than the recording", report, StringComparison.Ordinal);
        Assert.Contains("Find out when the log was kept", report, StringComparison.Ordinal);

        var fidelity = Review("late.csv").Json().GetProperty("fidelity");
        var without = fidelity.GetProperty("withoutFarSignals");
        Keys(without, "firstLineSeconds lastLineSeconds extraBeforeFirstLine extraAfterLastLine physiological technical");
        Assert.Equal((2, 0, 7823, 1), (Number(without, "extraBeforeFirstLine"), Number(without, "extraAfterLastLine"), Number(without, "firstLineSeconds"), Number(without.GetProperty("physiological"), "replayed")));
        Assert.Equal(3, Number(fidelity.GetProperty("physiological"), "replayed"));
        Assert.Equal("beyondLog", fidelity.GetProperty("extraSignals")[0].GetProperty("reasons")[0].GetProperty("reason").GetString());
        Assert.Equal(JsonValueKind.Null, Review("same.csv").Json().GetProperty("fidelity").GetProperty("withoutFarSignals").ValueKind);
        Assert.Contains(Tune("late.csv").GetProperty("proposal").GetProperty("caveats").EnumerateArray(), c => c.GetString()!.Contains("But 2 of the replayed signals lie before a log's first line or after its last", StringComparison.Ordinal));
    }

    [Fact]
    public void In_a_ward_a_log_that_is_not_reproduced_is_a_caveat_of_the_proposal_too()
    {
        Ward("""{ "file": "a.csv", "patient": "A", "category": "adult", "alarmLog": "a-alarms.csv" }, { "file": "b.csv", "patient": "B", "category": "adult" }, { "file": "c.csv", "patient": "C", "category": "adult", "alarmLog": "c-alarms.csv" }""");
        Assert.Contains(Caveats(), c => c.StartsWith("The replay of the present settings does not reproduce the monitor's own log: 6 of 9 logged signals reproduced (66.7 %)", StringComparison.Ordinal));
        folder.Write("ward/c-alarms.csv", SameAsReplay);
        Assert.DoesNotContain(Caveats(), c => c.Contains("own log", StringComparison.Ordinal));

        List<string> Caveats() =>
            [.. Ran.With("tune", folder["ward"], "--present", folder["settings.json"], "--limits", "85..90/5", "--delays", "0..15/15", "--json").Json().GetProperty("proposal").GetProperty("caveats").EnumerateArray().Select(c => c.GetString()!)];
    }

    [Fact]
    public void A_replay_that_does_not_reproduce_the_log_is_a_caveat_of_the_proposal()
    {
        const string caveat = "The replay of the present settings does not reproduce the monitor's own log: 3 of 6 logged signals reproduced (50 %)";
        Assert.Contains(Tune("shorter.csv").GetProperty("proposal").GetProperty("caveats").EnumerateArray(), c => c.GetString()!.StartsWith(caveat, StringComparison.Ordinal));
        Assert.DoesNotContain(Tune("same.csv").GetProperty("proposal").GetProperty("caveats").EnumerateArray(), c => c.GetString()!.Contains("own log", StringComparison.Ordinal));
    }

    [Fact]
    public void A_clock_difference_is_stated_and_the_option_applies_it()
    {
        folder.Write("late.csv", "Start,Alarm\n22:11:23,SpO2 low\n23:11:23,SpO2 low\n00:11:23,SpO2 low\n");
        var without = Review("late.csv").Json().GetProperty("fidelity");
        Assert.Equal(0, Number(without.GetProperty("physiological"), "matched"));
        Assert.Equal(-60, Number(without.GetProperty("clockDifference"), "offsetSeconds"));
        Assert.Contains("Nothing was added; --log-offset -60 does so.", Review("late.csv", json: false).Words, StringComparison.Ordinal);
        var with = Review("late.csv", more: ["--log-offset", "-60"]).Json().GetProperty("fidelity");
        Assert.Equal(3, Number(with.GetProperty("physiological"), "matched"));
        Assert.Equal(3, Number(Review("late.csv", more: ["--log-tolerance", "60"]).Json().GetProperty("fidelity").GetProperty("physiological"), "matched"));
    }

    [Fact]
    public void In_a_ward_each_recording_has_its_log_and_the_sum_is_given()
    {
        Ward("""{ "file": "a.csv", "patient": "A", "category": "adult", "alarmLog": "a-alarms.csv" }, { "file": "b.csv", "patient": "B", "category": "adult" }, { "file": "c.csv", "patient": "C", "category": "adult", "alarmLog": "c-alarms.csv" }""");
        var json = Ran.With("tune", folder["ward"], "--present", folder["settings.json"], "--limits", "90", "--delays", "15", "--json").Json();
        var fidelity = json.GetProperty("fidelity");
        Assert.Equal((9, 6), (Number(fidelity.GetProperty("physiological"), "logged"), Number(fidelity.GetProperty("physiological"), "matched")));
        Assert.Equal(["a.csv", "c.csv"], fidelity.GetProperty("recordings").EnumerateArray().Select(r => r.GetProperty("file").GetString()));
        Assert.Equal("ward", fidelity.GetProperty("recordings")[0].GetProperty("logFrom").GetString());
        // A list of alarms in the folder is no recording that was forgotten.
        Assert.Empty(json.GetProperty("leftOut").EnumerateArray());
        var page = Ran.With("tune", folder["ward"], "--present", folder["settings.json"], "--limits", "90", "--delays", "15").Words;
        Assert.Contains("Of 9 logged signals the replay reproduces 6", page, StringComparison.Ordinal);
    }

    [Fact]
    public void Logs_are_left_aside_on_request_and_named_where_nothing_is_replayed()
    {
        Ward("""{ "file": "a.csv", "patient": "A", "category": "adult", "alarmLog": "a-alarms.csv" }""");
        Assert.Equal(JsonValueKind.Null, Ran.With("tune", folder["ward"], "--present", folder["settings.json"], "--log", "none", "--json").Json().GetProperty("fidelity").ValueKind);
        Assert.Contains("It is not compared: give the settings in force with --settings.", Ran.With("review", folder["ward/a.csv"]).Words, StringComparison.Ordinal);
        Assert.Contains("(a-alarms.csv, as ward.json has it)", Ran.With("review", folder["ward/a.csv"], "--settings", folder["settings.json"]).Words, StringComparison.Ordinal);
    }

    [Fact]
    public void The_report_shows_the_comparison_and_names_the_log_among_its_inputs()
    {
        Review("shorter.csv", json: false, more: ["--report", folder["night.html"]]);
        string page = File.ReadAllText(folder["night.html"]);
        Assert.Contains("The replay beside the monitor’s own log", page, StringComparison.Ordinal);
        Assert.Contains("Logged and not replayed: 3", page, StringComparison.Ordinal);
        Assert.Contains("shorter.csv", page, StringComparison.Ordinal);
        Assert.Contains("alarm log", page, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("review {}/night.csv --log {}/same.csv", ExitCode.Usage, "without --settings")]
    [InlineData("tune {}/night.csv --log {}/same.csv", ExitCode.Usage, "without --present")]
    [InlineData("tune {}/night.csv {}/same.csv --log {}/same.csv --present {}/settings.json", ExitCode.Usage, "one alarm log for several recordings")]
    [InlineData("review {}/night.csv --settings {}/settings.json --log {}/nowhere.csv", ExitCode.Unreadable, "no such file")]
    [InlineData("review {}/night.csv --settings {}/settings.json --log {}/night.csv", ExitCode.Unreadable, "no column of texts")]
    [InlineData("review {}/night.csv --settings {}/settings.json --log-tolerance -1", ExitCode.Usage, "expected seconds from 0 to 300")]
    [InlineData("review {}/night.csv --settings {}/settings.json --log {}/same.csv --report {}/same.csv", ExitCode.Usage, "the report would replace an input")]
    public void What_cannot_be_compared_is_refused_and_says_why(string line, ExitCode code, string words)
    {
        var ran = Ran.With(line.Split(' ').Select(a => a.Replace("{}", folder.Path, StringComparison.Ordinal)).ToArray());
        Assert.Equal(code, ran.ExitCode);
        Assert.Contains(words, ran.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_log_named_in_the_ward_lies_in_its_folder_and_is_not_the_recording_itself()
    {
        foreach (string log in new[] { "../a-alarms.csv", "a.csv" })
        {
            Ward($$"""{ "file": "a.csv", "patient": "A", "category": "adult", "alarmLog": "{{log}}" }""");
            Assert.Equal(ExitCode.Unreadable, Ran.With("review", folder["ward/a.csv"]).ExitCode);
        }
    }

    [Fact]
    public void A_text_of_a_log_cannot_steer_the_terminal()
    {
        folder.Write("hostile.csv", "Start,Alarm\n22:10:23,SpO2 low \u001b[2J[red]\u202e\n22:50:00,\u001b]0;x\u0007 SpO2 low\n23:50:00,[bold]what\u001b[31m\n");
        var ran = Review("hostile.csv", json: false);
        Assert.Equal(ExitCode.Done, ran.ExitCode);
        Assert.DoesNotContain('\u001b', ran.Out);
        Assert.DoesNotContain('\u202e', ran.Out);
        Assert.Contains("[bold]what", ran.Out, StringComparison.Ordinal);
    }

    private void Ward(string recordings)
    {
        Directory.CreateDirectory(folder["ward"]);
        folder.WriteNight("ward/a.csv");
        folder.WriteNight("ward/b.csv", 5000);
        folder.WriteNight("ward/c.csv", 3 * 3600 + 1);
        folder.Write("ward/a-alarms.csv", SameAsReplay);
        folder.Write("ward/c-alarms.csv", ShorterDelay);
        folder.Write("ward/ward.json", $$"""{ "format": "stillwatch.ward/1", "recordings": [ {{recordings}} ] }""");
        if (!recordings.Contains("b.csv", StringComparison.Ordinal)) foreach (string name in new[] { "b.csv", "c.csv", "c-alarms.csv" }) File.Delete(folder["ward/" + name]);
    }

    private Ran Review(string log, bool json = true, string[]? more = null) =>
        Ran.With(["review", folder["night.csv"], "--settings", folder["settings.json"], "--log", folder[log], .. json ? ["--json"] : Array.Empty<string>(), .. more ?? []]);

    private JsonElement Tune(string log) =>
        Ran.With("tune", folder["night.csv"], "--present", folder["settings.json"], "--log", folder[log], "--limits", "85..90/5", "--delays", "0..15/15", "--json").Json();

    private static double Number(JsonElement element, string name) => element.GetProperty(name).GetDouble();

    private static void Keys(JsonElement element, string expected) =>
        Assert.Equal(expected.Split(' ').Order(StringComparer.Ordinal), element.EnumerateObject().Select(p => p.Name).Order(StringComparer.Ordinal));
}
