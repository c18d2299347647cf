using System.Security.Cryptography;
using System.Text.Json;
using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;
using Stillwatch.Formats;
using Stillwatch.Signals;

namespace Stillwatch.App.Tests;

/// <summary>What goes out with a recording, what comes back, and what is never written over.</summary>
public sealed class ExportTests : IDisposable
{
    private readonly Folder folder = new();

    public ExportTests()
    {
        folder.WriteNight("night.csv");
        folder.Write("settings.json", """
            { "format": "stillwatch.settings/1", "settings": [ { "name": "Ward Seven", "spo2Low": { "limit": 90, "delaySeconds": 15 } } ] }
            """);
        folder.Write("marks.json", """
            { "format": "stillwatch.marks/1", "marks": [ { "file": "night.csv", "startSeconds": 600, "endSeconds": 760, "reviewer": "Dr Reviewer", "mark": "significant", "note": "called by Jane" } ] }
            """);
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    [InlineData("csv")]
    [InlineData("edf")]
    [InlineData("bdf")]
    [InlineData("parquet")]
    [InlineData("json")]
    public void Events_signals_and_marks_come_back_each_with_its_origin(string ending)
    {
        var ran = Ran.With("export", folder["night.csv"], "--to", folder["out." + ending], "--settings", folder["settings.json"], "--marks", folder["marks.json"]);
        Assert.True(ran.ExitCode == ExitCode.Done, ran.Error);
        var back = Read("out." + ending);
        var night = Read("night.csv");
        Assert.Equal(night.Start, back.Start);
        Assert.Equal(night.Channels.Select(Samples), back.Channels.Select(Samples));
        // Three long falls to 78 % and three short ones to 86 % in three hours: six desaturation events, three must-catch events; a signal under 15 s of delay for each long fall.
        Assert.Equal(9, back.Annotations.Count(a => a.Origin == AnnotationOrigin.Event));
        Assert.Equal(3, back.Annotations.Count(a => a is { Origin: AnnotationOrigin.ReplayedSignal } && a.Text.StartsWith("signal: SpO2 low, medium priority, active for ", StringComparison.Ordinal)));
        var mark = Assert.Single(back.Annotations, a => a.Origin == AnnotationOrigin.ReviewMark);
        Assert.Equal("review mark: real and significant, by Dr Reviewer: called by Jane", mark.Text);
        Assert.Equal((600_000, 160_000), (mark.Time.Milliseconds, mark.Length.Milliseconds));
        Assert.DoesNotContain(back.Annotations, a => a.Origin == AnnotationOrigin.Source);
        Assert.Equal(back.Annotations.OrderBy(a => a.Time), back.Annotations);
    }

    [Fact]
    public void The_manifest_has_hashes_version_definitions_options_and_the_counts_of_each_kind()
    {
        Ran.With("export", folder["night.csv"], "--to", folder["out.json"], "--settings", folder["settings.json"], "--averaging", "4");
        var manifest = Manifest("out.json");
        Assert.Equal("stillwatch.export/1", manifest.GetProperty("format").GetString());
        Assert.Equal(Hash("out.json"), manifest.GetProperty("output").GetProperty("sha256").GetString());
        Assert.Equal(Hash("night.csv"), manifest.GetProperty("inputs")[0].GetProperty("sha256").GetString());
        Assert.Equal("night.csv", manifest.GetProperty("inputs")[0].GetProperty("file").GetString());
        Assert.Matches(@"^Stillwatch \d+\.\d+\.\d+$", manifest.GetProperty("software").GetString());
        Assert.Equal(4, manifest.GetProperty("conditioning").GetProperty("averagingSeconds").GetDouble());
        Assert.Equal(3, manifest.GetProperty("desaturationEvent").GetProperty("fall").GetDouble());
        Assert.Equal(85, manifest.GetProperty("mustCatchDefinition").GetProperty("lines")[0].GetProperty("level").GetDouble());
        Assert.Equal(90, manifest.GetProperty("settings").GetProperty("spo2Low").GetProperty("limit").GetDouble());
        Assert.Equal(0, manifest.GetProperty("annotations").GetProperty("source").GetInt32());
        Assert.Equal(Read("out.json").Annotations.Count(a => a.Origin == AnnotationOrigin.Event), manifest.GetProperty("annotations").GetProperty("event").GetInt32());
        Assert.Contains("local policy", manifest.GetProperty("caution").GetString(), StringComparison.OrdinalIgnoreCase);
        Assert.Equal(0, manifest.GetProperty("notHeld").GetArrayLength());
    }

    [Fact]
    public void Json_has_its_keys()
    {
        var json = Ran.With("export", folder["night.csv"], "--to", folder["out.csv"], "--json").Json();
        Keys(json, "file sha256 patient category categoryAssumed oxygen sourceAveragingSeconds output channels annotations conditioning desaturationEvent mustCatchDefinition settings notHeld deIdentified issues");
        Keys(json.GetProperty("output"), "file manifest sha256 bytes fileFormat");
        Assert.Equal("table.annotations", json.GetProperty("notHeld")[0].GetProperty("code").GetString());
        Assert.Equal(JsonValueKind.Null, json.GetProperty("deIdentified").ValueKind);
    }

    [Fact]
    public void Nothing_that_names_anyone_is_in_a_de_identified_export()
    {
        folder.Write("Jane Doe.csv", File.ReadAllText(folder["night.csv"]).Replace("Pulse", "Pulse of Jane", StringComparison.Ordinal));
        folder.Write("marks.json", File.ReadAllText(folder["marks.json"]).Replace("night.csv", "Jane Doe.csv", StringComparison.Ordinal));
        var ran = Ran.With("export", folder["Jane Doe.csv"], "--to", folder["shared.csv"], "--de-identify", "--secret", folder["secret.txt"], "--settings", folder["settings.json"], "--marks", folder["marks.json"]);
        Assert.True(ran.ExitCode == ExitCode.Done, ran.Error);
        foreach (string file in new[] { "shared.csv", "shared.csv.manifest.json" })
        {
            string text = File.ReadAllText(folder[file]);
            foreach (string name in new[] { "Jane", "Doe", "Reviewer", "Ward Seven", "2026-03-02", Hash("Jane Doe.csv") }) Assert.DoesNotContain(name, text, StringComparison.Ordinal);
        }

        Assert.Contains("This is not anonymity.", ran.Words, StringComparison.Ordinal);
        Assert.Contains("The secret was made", ran.Words, StringComparison.Ordinal);
        Assert.Contains("(text left out)", Assert.Single(Read("shared.csv").Annotations, a => a.Origin == AnnotationOrigin.ReviewMark).Text, StringComparison.Ordinal);
        Assert.Equal(Samples(Read("Jane Doe.csv").Channels[0]), Samples(Read("shared.csv").Channels[0]));
    }

    [Theory]
    [InlineData("csv")]
    [InlineData("edf")]
    [InlineData("bdf")]
    [InlineData("parquet")]
    [InlineData("json")]
    public void The_marks_of_two_reviewers_stay_those_of_two_and_de_identified_their_names_are_replaced(string ending)
    {
        folder.Write("two.json", """
            { "format": "stillwatch.marks/1", "marks": [
              { "file": "night.csv", "startSeconds": 600, "endSeconds": 760, "reviewer": "Anna First", "mark": "significant", "note": "called by Jane" },
              { "file": "night.csv", "startSeconds": 600, "endSeconds": 760, "reviewer": "Bert Zweiter", "mark": "artefact" },
              { "file": "night.csv", "startSeconds": 2000, "endSeconds": 2040, "reviewer": "Anna First", "mark": "cannotTell", "note": "" } ] }
            """);
        string[] Marks(string name, params string[] more)
        {
            var ran = Ran.With(["export", folder["night.csv"], "--to", folder[name], "--marks", folder["two.json"], .. more]);
            Assert.True(ran.ExitCode == ExitCode.Done, ran.Error);
            return [.. Read(name).Annotations.Where(a => a.Origin == AnnotationOrigin.ReviewMark).Select(a => $"{a.Time.Milliseconds}+{a.Length.Milliseconds} {a.Text}").Order(StringComparer.Ordinal)];
        }

        Assert.Equal(
            ["2000000+40000 review mark: cannot tell, by Anna First", "600000+160000 review mark: artefact, by Bert Zweiter", "600000+160000 review mark: real and significant, by Anna First: called by Jane"],
            Marks("named." + ending));
        string[] replaced = Marks("shared." + ending, "--de-identify", "--secret", folder["secret.txt"]);
        string[] reviewers = [.. replaced.Select(m => m[(m.IndexOf(", by ", StringComparison.Ordinal) + 5)..].Replace(" (text left out)", "", StringComparison.Ordinal))];
        Assert.Equal(["2000000+40000 review mark: cannot tell, by " + reviewers[0], "600000+160000 review mark: artefact, by " + reviewers[1], $"600000+160000 review mark: real and significant, by {reviewers[0]} (text left out)"], replaced);
        Assert.NotEqual(reviewers[0], reviewers[1]);
        foreach (string file in new[] { "shared." + ending, $"shared.{ending}.manifest.json" })
        {
            string text = File.ReadAllText(folder[file]);
            foreach (string name in new[] { "Anna", "First", "Bert", "Zweiter", "Jane" }) Assert.DoesNotContain(name, text, StringComparison.Ordinal);
        }
    }

    [Theory]
    [InlineData("97", "met in reading not shown")]
    [InlineData("", "no SpO2 channel with a valid value")]
    public void Neither_page_nor_manifest_of_a_de_identified_export_quotes_the_original(string value, string said)
    {
        folder.Write("odd.csv", "Time,SpO2 Doe\n" + string.Concat(Enumerable.Range(0, 300).Select(i => i == 100 ? "call Jane,96\n" : $"2026-03-02 22:{i / 60:00}:{i % 60:00},{value}\n")));
        foreach (string to in new[] { "shared.json", "shared.csv", "shared.edf" })
        {
            var ran = Ran.With("export", folder["odd.csv"], "--to", folder[to], "--de-identify", "--secret", folder["secret.txt"], "--map", "spo2=SpO2 Doe");
            Assert.True(ran.ExitCode == ExitCode.Done, ran.Error);
            Assert.Contains(said, ran.Words, StringComparison.Ordinal);
            foreach (string text in new[] { ran.Words, File.ReadAllText(folder[to]), File.ReadAllText(folder[to + ".manifest.json"]) })
            {
                foreach (string name in new[] { "Jane", "Doe", "2026-03-02" }) Assert.DoesNotContain(name, text, StringComparison.Ordinal);
            }
        }
    }

    [Fact]
    public void An_empty_secret_is_said_to_be_empty_and_is_left_as_it_is()
    {
        folder.Write("secret.txt", "");
        var ran = Ran.With("export", folder["night.csv"], "--to", folder["shared.json"], "--de-identify", "--secret", folder["secret.txt"]);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("an empty file", ran.ErrorWords, StringComparison.Ordinal);
        Assert.Equal(0, new FileInfo(folder["secret.txt"]).Length);
        Assert.False(File.Exists(folder["shared.json"]));
    }

    [Fact]
    public void The_same_patient_under_the_same_secret_has_the_same_pseudonym_and_shift()
    {
        string[] Export(string name, string patient, string secret)
        {
            Ran.With("export", folder["night.csv"], "--to", folder[name], "--de-identify", "--secret", folder[secret], "--patient", patient);
            return [Manifest(name).GetProperty("deIdentified").GetProperty("patient").GetString()!, Read(name).Start.ToString()];
        }

        var first = Export("1.json", "A", "secret.txt");
        Assert.Equal(first, Export("2.json", "A", "secret.txt"));
        Assert.NotEqual(first[0], Export("3.json", "B", "secret.txt")[0]);
        Assert.NotEqual(first[0], Export("4.json", "A", "other.txt")[0]);
        Assert.EndsWith("22:00:00, zone unknown", first[1], StringComparison.Ordinal);
        if (!OperatingSystem.IsWindows()) Assert.Equal(UnixFileMode.UserRead | UnixFileMode.UserWrite, File.GetUnixFileMode(folder["secret.txt"]));
    }

    [Fact]
    public void A_file_that_is_there_is_replaced_only_when_asked_and_no_draft_is_left()
    {
        folder.Write("out.json", "mine");
        var refused = Ran.With("export", folder["night.csv"], "--to", folder["out.json"]);
        Assert.Equal(ExitCode.Usage, refused.ExitCode);
        Assert.Equal("mine", File.ReadAllText(folder["out.json"]));
        Assert.Contains("--replace", refused.Error, StringComparison.Ordinal);
        Assert.Equal(ExitCode.Done, Ran.With("export", folder["night.csv"], "--to", folder["out.json"], "--replace").ExitCode);
        Assert.NotNull(Read("out.json"));
        Assert.Equal(["marks.json", "night.csv", "out.json", "out.json.manifest.json", "settings.json"], Directory.GetFiles(folder.Path).Select(Path.GetFileName).Order(StringComparer.Ordinal));
    }

    [Theory]
    // where a folder stands in the way, what stood under the other name before
    [InlineData("out.json.manifest.json", "out.json", "mine")]
    [InlineData("out.json.manifest.json", "out.json", null)]
    [InlineData("out.json", "out.json.manifest.json", "mine")]
    [InlineData("out.json", "out.json.manifest.json", null)]
    public void Recording_and_manifest_appear_together_or_what_was_there_before_stays(string inTheWay, string other, string? before)
    {
        Directory.CreateDirectory(folder[inTheWay]);
        if (before is not null) folder.Write(other, before);
        var files = Directory.GetFiles(folder.Path).Order(StringComparer.Ordinal).ToList();
        var ran = Ran.With("export", folder["night.csv"], "--to", folder["out.json"], "--replace");
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("out.json", ran.Error, StringComparison.Ordinal);
        Assert.Equal(files, Directory.GetFiles(folder.Path).Order(StringComparer.Ordinal));
        if (before is not null) Assert.Equal(before, File.ReadAllText(folder[other]));
    }

    [Theory]
    [InlineData("ward.json")]
    [InlineData("settings.json")]
    public void A_side_file_is_never_replaced(string name)
    {
        folder.Write("ward.json", """{ "format": "stillwatch.ward/1", "recordings": [] }""");
        string before = File.ReadAllText(folder[name]);
        Assert.Equal(ExitCode.Usage, Ran.With("export", folder["night.csv"], "--to", folder[name], "--replace", "--settings", folder["settings.json"]).ExitCode);
        Assert.Equal(before, File.ReadAllText(folder[name]));
    }

    [Fact]
    public void An_export_that_is_exported_again_does_not_grow()
    {
        Ran.With("export", folder["night.csv"], "--to", folder["1.json"], "--settings", folder["settings.json"]);
        Ran.With("export", folder["1.json"], "--to", folder["2.parquet"], "--settings", folder["settings.json"]);
        Ran.With("export", folder["2.parquet"], "--to", folder["3.json"], "--settings", folder["settings.json"]);
        Assert.Equal(File.ReadAllBytes(folder["1.json"]), File.ReadAllBytes(folder["3.json"]));
    }

    [Fact]
    public void In_a_folder_recordings_in_JSON_are_found_and_side_files_are_not_taken_for_recordings()
    {
        Directory.CreateDirectory(folder["ward"]);
        Ran.With("export", folder["night.csv"], "--to", folder["ward/a.json"]);
        File.Copy(folder["settings.json"], folder["ward/settings.json"]);
        var json = Ran.With("inspect", folder["ward"], "--json").Json();
        Assert.Equal(["a.json"], json.GetProperty("recordings").EnumerateArray().Select(r => r.GetProperty("file").GetString()));
        Assert.Equal(0, json.GetProperty("unreadable").GetArrayLength());
    }

    [Fact]
    public void A_night_and_its_exports_in_one_folder_are_one_night()
    {
        Directory.CreateDirectory(folder["both"]);
        File.Copy(folder["night.csv"], folder["both/night.csv"]);
        foreach (string name in new[] { "both/out.json", "both/a.edf", "both/out.csv", "both/out.parquet" }) Assert.Equal(ExitCode.Done, Ran.With("export", folder["night.csv"], "--to", folder[name]).ExitCode);
        var json = Ran.With("ward", folder["both"], "--json").Json();
        Assert.Equal(1, json.GetProperty("patients").GetArrayLength());
        Assert.Equal(4, json.GetProperty("notComputable").GetArrayLength());
        Assert.Contains("an export of the other", json.GetProperty("notComputable")[0].ToString(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_side_file_given_as_a_recording_is_said_to_be_one()
    {
        var ran = Ran.With("inspect", folder["settings.json"]);
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        Assert.Contains("a side file was given in place of a recording", ran.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void Without_a_saturation_the_recording_goes_out_and_the_page_says_why_there_are_no_events()
    {
        folder.Write("no-spo2.csv", "Time,Pulse\n2026-03-02T22:00:00,71\n2026-03-02T22:00:01,72\n2026-03-02T22:00:02,72\n");
        var ran = Ran.With("export", folder["no-spo2.csv"], "--to", folder["out.json"]);
        Assert.Equal(ExitCode.Done, ran.ExitCode);
        Assert.Contains("Events: no column that is SpO2.", ran.Words, StringComparison.Ordinal);
    }

    private Recording Read(string name) => RecordingReaders.Read(new RecordingSource(name, new DiskFolder(folder.Path)), new ReadOptions()).Recording!;

    private JsonElement Manifest(string name)
    {
        using var document = JsonDocument.Parse(File.ReadAllText(folder[name + ".manifest.json"]));
        return document.RootElement.Clone();
    }

    private string Hash(string name) => Convert.ToHexStringLower(SHA256.HashData(File.ReadAllBytes(folder[name])));

    private static string Samples(Channel channel) => string.Join(' ', Enumerable.Range(0, channel.Times.Count).Select(i => channel.Values[i]));

    private static void Keys(JsonElement element, string expected) =>
        Assert.Equal(expected.Split(' ').Order(StringComparer.Ordinal), element.EnumerateObject().Select(p => p.Name).Order(StringComparer.Ordinal));
}
