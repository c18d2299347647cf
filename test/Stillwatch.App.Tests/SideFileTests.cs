using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>Side files are read strictly: every mistake is found and named with its place.</summary>
public sealed class SideFileTests : IDisposable
{
    private const string Low = "\"spo2Low\": { \"limit\": 90, \"delaySeconds\": 10 }";

    private readonly Folder folder = new();

    public SideFileTests() => folder.WriteNight("night.csv");

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("", "JSON")]
    [InlineData("[]", "$ likely")]
    [InlineData("{}", "found no field \"format\"")]
    [InlineData("{ \"format\": \"stillwatch.settings/2\", \"settings\": [] }", "expected \"stillwatch.settings/1\"")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [] }", "found 0 entries expected at least 1")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"limit\": 90 } ] }", "the field \"limit\"")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"spo2low\": null } ] }", "capital and small letters count: \"spo2Low\"")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"name\": \"b\" } ] }", "JSON")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"spo2Low\": { \"limit\": \"90\", \"delaySeconds\": 10 } } ] }", "$.settings[0].spo2Low.limit")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"spo2Low\": { \"limit\": 190, \"delaySeconds\": 10 } } ] }", "found 190 expected 1 to 100")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"spo2Low\": { \"limit\": 90 } } ] }", "found no field \"delaySeconds\"")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"spo2Low\": { \"limit\": 98, \"delaySeconds\": 10, \"clearMargin\": 3 } } ] }", "limit + margin ≤ 100 %")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", " + Low + ", \"backstop\": { \"limit\": 90, \"delaySeconds\": 5 } } ] }", "below the low limit 90 %")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"backstop\": { \"limit\": 80, \"delaySeconds\": 5 } } ] }", "a backstop without a low limit")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"validity\": \"some\" } ] }", "expected one of standard, none")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"category\": \"paediatric\" } ] }", "found \"paediatric\"")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\" }, { \"name\": \"b\" } ] }", "a second set without a category")]
    [InlineData("{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", \"category\": \"neonate-air\", " + Low + " } ] }", "expected one for adult")]
    public void A_wrong_settings_file_is_refused_with_its_place(string text, string expected) => Refused("--settings", text, expected);

    [Theory]
    [InlineData("{ \"format\": \"stillwatch.must-catch/1\", \"definitions\": [ { \"name\": \"a\", \"source\": \"b\", \"lines\": [] } ] }", "$.definitions[0].lines")]
    [InlineData("{ \"format\": \"stillwatch.must-catch/1\", \"definitions\": [ { \"name\": \"a\", \"lines\": [ { \"level\": 85, \"comparison\": \"atOrBelow\", \"forSeconds\": 60 } ] } ] }", "no field \"source\"")]
    [InlineData("{ \"format\": \"stillwatch.must-catch/1\", \"definitions\": [ { \"name\": \"a\", \"source\": \"b\", \"lines\": [ { \"level\": 85, \"comparison\": \"<=\", \"forSeconds\": 60 } ] } ] }", "one of atOrBelow, below")]
    public void A_wrong_must_catch_file_is_refused_with_its_place(string text, string expected) => Refused("--must-catch", text, expected);

    [Theory]
    [InlineData("{ \"format\": \"stillwatch.marks/1\", \"marks\": [ { \"file\": \"night.csv\", \"startSeconds\": 5, \"endSeconds\": 4, \"reviewer\": \"A\", \"mark\": \"artefact\" } ] }", "an end at or after the start")]
    [InlineData("{ \"format\": \"stillwatch.marks/1\", \"marks\": [ { \"file\": \"night.csv\", \"startSeconds\": 5, \"reviewer\": \" \", \"mark\": \"artefact\" } ] }", "two reviewers count only if they can be told apart")]
    [InlineData("{ \"format\": \"stillwatch.marks/1\", \"marks\": [ { \"file\": \"night.csv\", \"startSeconds\": 5, \"reviewer\": \"A\", \"mark\": \"artifact\" } ] }", "significant, notSignificant, cannotTell, artefact")]
    [InlineData("{ \"format\": \"stillwatch.marks/1\", \"marks\": [ { \"file\": \"nihgt.csv\", \"startSeconds\": 5, \"reviewer\": \"A\", \"mark\": \"artefact\" } ] }", "found marks on nihgt.csv")]
    public void A_wrong_marks_file_is_refused_with_its_place(string text, string expected) => Refused("--marks", text, expected);

    [Theory]
    [InlineData("{ \"format\": \"stillwatch.ward/1\", \"recordings\": [ { \"file\": \"../night.csv\", \"patient\": \"p\", \"category\": \"adult\" } ] }", "a file name without folders")]
    [InlineData("{ \"format\": \"stillwatch.ward/1\", \"recordings\": [ { \"file\": \"night.csv\", \"patient\": \"p\", \"category\": \"adult\" }, { \"file\": \"b.csv\", \"patient\": \"p\", \"category\": \"neonate-air\" } ] }", "one pseudonym was given to two patients")]
    [InlineData("{ \"format\": \"stillwatch.ward/1\", \"recordings\": [ { \"file\": \"night.csv\", \"patient\": \"p\", \"category\": \"adult\" }, { \"file\": \"night.csv\", \"patient\": \"p\", \"category\": \"adult\" } ] }", "each file once")]
    public void A_wrong_manifest_is_refused_with_its_place(string text, string expected)
    {
        folder.Write("ward.json", text);
        var ran = Ran.With("ward", folder.Path);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains(expected, ran.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void A_recording_that_the_manifest_does_not_name_is_left_out_and_said_so()
    {
        folder.Write("ward.json", """{ "format": "stillwatch.ward/1", "recordings": [ { "file": "night.csv", "patient": "p", "category": "adult" } ] }""");
        folder.WriteNight("other.csv", 1800);
        var ran = Ran.With("ward", folder.Path);
        Assert.Contains("Not named in ward.json, and in no number below: other.csv", ran.Words, StringComparison.Ordinal);
        Assert.Equal("other.csv", Ran.With("ward", folder.Path, "--json").Json().GetProperty("leftOut")[0].GetString());
    }

    [Fact]
    public void One_artefact_mark_never_removes_an_event_and_two_agreeing_ones_do()
    {
        int Events(params string[] reviewers)
        {
            string marks = string.Join(", ", reviewers.Select(r => $$"""{ "file": "night.csv", "startSeconds": 600, "endSeconds": 780, "reviewer": "{{r}}", "mark": "artefact" }"""));
            folder.Write("marks.json", $$"""{ "format": "stillwatch.marks/1", "marks": [ {{marks}} ] }""");
            return Ran.With("review", folder["night.csv"], "--marks", folder["marks.json"], "--json").Json().GetProperty("mustCatch").GetArrayLength();
        }

        Assert.Equal(3, Events());
        Assert.Equal(3, Events("A"));
        Assert.Equal(2, Events("A", "B"));
    }

    [Fact]
    public void Settings_given_out_by_the_program_can_be_given_back()
    {
        folder.Write("a.json", "{ \"format\": \"stillwatch.settings/1\", \"settings\": [ { \"name\": \"a\", " + Low + ", \"backstop\": { \"limit\": 80, \"delaySeconds\": 5 }, \"pulseRateLow\": { \"limit\": 50, \"delaySeconds\": 10 }, \"averagingSeconds\": 4 } ] }");
        var first = Ran.With("review", folder["night.csv"], "--settings", folder["a.json"], "--json").Json();
        folder.Write("b.json", "{ \"format\": \"stillwatch.settings/1\", \"settings\": [ " + first.GetProperty("settings").GetRawText() + " ] }");
        var second = Ran.With("review", folder["night.csv"], "--settings", folder["b.json"], "--json").Json();
        Assert.Equal(first.GetProperty("settings").GetRawText(), second.GetProperty("settings").GetRawText());
        Assert.Equal(first.GetProperty("signals").GetRawText(), second.GetProperty("signals").GetRawText());
    }

    private void Refused(string option, string text, string expected)
    {
        folder.Write("side.json", text);
        var ran = Ran.With("review", folder["night.csv"], option, folder["side.json"]);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Empty(ran.Out);
        Assert.Contains(expected, ran.ErrorWords, StringComparison.Ordinal);
        Assert.Contains(folder["side.json"], ran.Error, StringComparison.Ordinal);
    }
}
