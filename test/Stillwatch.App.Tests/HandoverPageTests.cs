using System.Security.Cryptography;
using System.Text;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary><c>report</c>: one page to hand over, from files to a file.</summary>
public sealed class HandoverPageTests : IDisposable
{
    private readonly Folder folder = new();
    private readonly string night;
    private readonly string idea;

    public HandoverPageTests()
    {
        night = folder.WriteNight("night.csv");
        idea = folder.Write("idea.json", """
            {"format": "stillwatch.settings/1", "settings": [{"name": "Night idea B", "spo2Low": {"limit": 88, "delaySeconds": 15}, "backstop": {"limit": 75, "delaySeconds": 5}}]}
            """);
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("out.pdf", "%PDF-", "application/pdf")]
    [InlineData("out.html", "<!DOCTYPE html>", "text/html")]
    [InlineData("out.png", "PNG", "image/png")]
    public void The_ending_says_what_is_written_and_the_answer_has_its_hash(string name, string begins, string mediaType)
    {
        var json = Ran.With("report", night, "--category", "adult", "--to", folder[name], "--json").Json();
        byte[] bytes = File.ReadAllBytes(folder[name]);
        Assert.Contains(begins, Encoding.Latin1.GetString(bytes, 0, 20), StringComparison.Ordinal);
        var output = json.GetProperty("output");
        Assert.Equal(mediaType, output.GetProperty("mediaType").GetString());
        Assert.Equal(bytes.Length, output.GetProperty("bytes").GetInt64());
        Assert.Equal(Convert.ToHexStringLower(SHA256.HashData(bytes)), output.GetProperty("sha256").GetString());
        Assert.Equal("recording", json.GetProperty("page").GetString());
        Assert.Equal(3, Directory.GetFiles(folder.Path).Length); // night, idea and the page: no draft is left
    }

    [Fact]
    public void The_page_of_a_recording_has_the_hash_of_its_file_its_coverage_and_the_present_settings()
    {
        string page = Page("report", night, "--category", "adult", "--present", idea, "--why", "Seen with the doctor on call.");
        Assert.Contains(Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(night))), page, StringComparison.Ordinal);
        foreach (string words in new[] { "Coverage: 3\u00a0h of 3\u00a0h valid", "Averaging: by the monitor not known; ours none", "Present settings: SpO2 below 88\u00a0%", "Seen with the doctor on call.", "not a primary alarm" })
            Assert.Contains(words, page, StringComparison.Ordinal);
        Assert.DoesNotContain("Night idea B", page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_decision_against_the_evidence_says_so_on_the_page_and_in_the_answer()
    {
        string page = Page("report", night, "--category", "adult", "--settings", idea, "--until", "3 June", "--for", "Bed 4");
        foreach (string words in new[] { "For discussion: SpO2 below 88\u00a0% for more than 15\u00a0s", "The evidence does not support these settings", "Nobody has accepted it yet. It would hold until 3 June.", "Accepted by", "Bed 4", "8. Is there more than one patient?" })
            Assert.Contains(words, page, StringComparison.Ordinal);
        var json = Ran.With("report", night, "--category", "adult", "--settings", idea, "--to", folder["again.html"], "--json").Json();
        Assert.Equal("decision", json.GetProperty("page").GetString());
        Assert.NotEmpty(json.GetProperty("refusedBecause").EnumerateArray());
    }

    [Fact]
    public void The_checks_of_a_decision_are_of_the_settings_named_and_say_so()
    {
        string far = folder.Write("far.json", """
            {"format": "stillwatch.settings/1", "settings": [{"name": "Far out", "spo2Low": {"limit": 78, "delaySeconds": 60}, "backstop": {"limit": 74, "delaySeconds": 5}}]}
            """);
        string page = Page("report", night, "--category", "adult", "--settings", far);
        foreach (string words in new[] { "They lie outside the bounds inside which anything is proposed", "Checks of the settings decided", "not of those decided", "speaks against" })
            Assert.Contains(words, page, StringComparison.Ordinal);
    }

    [Fact]
    public void A_decision_that_was_accepted_names_who_when_and_until_when()
    {
        string page = Page("report", night, "--category", "adult", "--settings", idea, "--accepted-by", "the monitoring lead", "--accepted-on", "3 March", "--until", "3 June");
        Assert.Contains("Accepted by the monitoring lead on 3 March. It holds until 3 June", page, StringComparison.Ordinal);
        Assert.Contains("Decided: SpO2 below 88", page, StringComparison.Ordinal);
        Assert.Contains("The evidence does not support these settings", page, StringComparison.Ordinal);
    }

    [Fact]
    public void The_same_files_give_the_same_html_byte_for_byte() => Assert.Equal(Page("report", night), Page("report", night, "--replace"));

    [Fact]
    public void Nothing_is_replaced_unless_asked_and_what_is_read_never()
    {
        string taken = folder.Write("taken.pdf", "mine");
        var refused = Ran.With("report", night, "--to", taken);
        Assert.Equal(ExitCode.Usage, refused.ExitCode);
        Assert.Equal("mine", File.ReadAllText(taken));
        Assert.Equal(ExitCode.Done, Ran.With("report", night, "--to", taken, "--replace").ExitCode);
        File.Copy(night, folder["night.html"]);
        Assert.Equal(ExitCode.Usage, Ran.With("report", folder["night.html"], "--to", folder["night.html"], "--replace").ExitCode);
        Assert.Equal(File.ReadAllBytes(night), File.ReadAllBytes(folder["night.html"]));
    }

    [Theory]
    [InlineData("out.doc", "", ExitCode.Usage, "one of .pdf, .html, .png")]
    [InlineData("out.pdf", "--accepted-by me", ExitCode.Usage, "without --settings")]
    [InlineData("out.pdf", "--with-map", ExitCode.Usage, "without --settings")]
    [InlineData("nowhere/out.pdf", "", ExitCode.Unreadable, "the folder does not exist")]
    public void What_cannot_be_written_is_said_with_its_cause(string name, string more, ExitCode code, string words)
    {
        var ran = Ran.With([.. new[] { "report", night, "--to", folder[name] }, .. more.Split(' ', StringSplitOptions.RemoveEmptyEntries)]);
        Assert.Equal(code, ran.ExitCode);
        Assert.Contains(words, ran.Error, StringComparison.Ordinal);
    }

    [Fact]
    public void Several_recordings_are_no_page_without_a_decision_and_several_groups_are_no_decision()
    {
        folder.WriteNight("other.csv");
        Assert.Contains("one page is for one recording", Ran.With("report", night, folder["other.csv"], "--to", folder["out.pdf"]).Error, StringComparison.Ordinal);
        folder.WriteNight("sparse.csv", periodSeconds: 4);
        var ran = Ran.With("report", night, folder["sparse.csv"], "--settings", idea, "--to", folder["out.pdf"]);
        Assert.Equal(ExitCode.NothingComputable, ran.ExitCode);
        Assert.Contains("one group of like patients", ran.Error, StringComparison.Ordinal);
        Assert.False(File.Exists(folder["out.pdf"]));
    }

    private string Page(params string[] arguments)
    {
        var ran = Ran.With([.. arguments, "--to", folder["page.html"]]);
        Assert.True(ran.ExitCode == ExitCode.Done, ran.Error);
        return System.Net.WebUtility.HtmlDecode(File.ReadAllText(folder["page.html"]));
    }
}
