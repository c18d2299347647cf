using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>Evidence is counted in patients: a copy is no second patient, and a patient whom nobody named is said to be assumed.</summary>
public sealed class WhoseRecordingsTests : IDisposable
{
    private const string Assumed = "Nothing (no ward.json, no pseudonym) says whose the recordings are: each file was taken as a patient of its own. If some are of one patient, the bounds over patients are too good.";
    private const string Adult = "No category was given, so an adult was assumed: ";

    private readonly Folder folder = new();

    public WhoseRecordingsTests()
    {
        Directory.CreateDirectory(folder["ward"]);
        folder.WriteNight("ward/a.csv");
    }

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Seventy_copies_of_one_recording_are_one_recording_of_one_patient()
    {
        for (int i = 1; i < 70; i++) File.Copy(folder["ward/a.csv"], folder[$"ward/b{i:00}.csv"]);
        var once = Ran.With("tune", folder["ward/a.csv"], "--limits", "85..90", "--delays", "0..20/5", "--json").Json();
        var json = Ran.With("tune", folder["ward"], "--limits", "85..90", "--delays", "0..20/5", "--json").Json();
        Assert.Equal(1, json.GetProperty("patients").GetInt32());
        Assert.Equal("a.csv", Assert.Single(json.GetProperty("recordings").EnumerateArray()).GetProperty("file").GetString());
        Assert.Equal(3, json.GetProperty("monitoredHours").GetDouble());
        foreach (string part in new[] { "proposal", "map", "mustCatch" })
            Assert.Equal(once.GetProperty(part).GetRawText(), json.GetProperty(part).GetRawText());
        Assert.Equal(69, json.GetProperty("notComputable").GetArrayLength());
        Assert.Equal("b01.csv: a copy of a.csv (the same SHA-256); one recording counts once", json.GetProperty("notComputable")[0].GetString());
    }

    [Fact]
    public void A_copy_is_named_on_the_pages_of_tune_and_ward()
    {
        File.Copy(folder["ward/a.csv"], folder["ward/b.csv"]);
        foreach (string command in new[] { "tune", "ward" })
        {
            var ran = Ran.With(command, folder["ward"]);
            Assert.Equal(ExitCode.Done, ran.ExitCode);
            Assert.Contains("In no number below: b.csv: a copy of a.csv (the same SHA-256)", ran.Words, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void A_copy_that_ward_json_gives_to_another_patient_is_said_to_be_impossible()
    {
        File.Copy(folder["ward/a.csv"], folder["ward/b.csv"]);
        Manifest("""{ "file": "a.csv", "patient": "P-1", "category": "adult" }, { "file": "b.csv", "patient": "P-2", "category": "adult" }""");
        Assert.Contains("and cannot be of both P-1 and P-2", Ran.With("tune", folder["ward"]).Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Files_without_a_manifest_are_patients_of_their_own_and_page_and_proposal_say_so()
    {
        folder.WriteNight("ward/b.csv", 5000);
        var json = Ran.With("tune", folder["ward"], "--json").Json();
        Assert.True(json.GetProperty("patientsAssumed").GetBoolean());
        string?[] caveats = [.. json.GetProperty("proposal").GetProperty("caveats").EnumerateArray().Select(c => c.GetString())];
        Assert.Equal(Assumed, caveats[0]);
        Assert.StartsWith(Adult, caveats[1], StringComparison.Ordinal);
        Assert.Contains(Assumed, Ran.With("tune", folder["ward"]).Words, StringComparison.Ordinal);

        Assert.True(Ran.With("ward", folder["ward"], "--json").Json().GetProperty("patientsAssumed").GetBoolean());
        Assert.Contains("each file was taken as a patient of its own", Ran.With("ward", folder["ward"]).Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Nothing_is_assumed_of_patients_where_ward_json_names_them_or_where_there_is_one_file()
    {
        var one = Ran.With("tune", folder["ward/a.csv"], "--category", "adult", "--json").Json();
        Assert.False(one.GetProperty("patientsAssumed").GetBoolean());
        folder.WriteNight("ward/b.csv", 5000);
        Manifest("""{ "file": "a.csv", "patient": "P-1", "category": "adult" }, { "file": "b.csv", "patient": "P-1", "category": "adult" }""");
        var json = Ran.With("tune", folder["ward"], "--json").Json();
        Assert.False(json.GetProperty("patientsAssumed").GetBoolean());
        Assert.Equal(1, json.GetProperty("patients").GetInt32());
        foreach (var answer in new[] { one, json })
            Assert.DoesNotContain("assumed", answer.GetProperty("proposal").GetProperty("caveats").GetRawText(), StringComparison.Ordinal);
    }

    [Fact]
    public void A_file_that_the_manifest_beside_it_does_not_name_is_named_as_assumed()
    {
        folder.WriteNight("ward/b.csv", 5000);
        Manifest("""{ "file": "a.csv", "patient": "P-1", "category": "adult" }""");
        var ran = Ran.With("tune", folder["ward/a.csv"], folder["ward/b.csv"], "--category", "adult");
        Assert.Contains("Nothing (no ward.json, no pseudonym) says whose these recordings are: b.csv; each was taken as a patient of its own.", ran.Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Whom_nobody_called_an_adult_is_in_no_group_with_adults()
    {
        folder.WriteNight("ward/b.csv", 5000);
        Manifest("""{ "file": "a.csv", "patient": "P-1", "category": "adult" }""");
        string[] both = [folder["ward/a.csv"], folder["ward/b.csv"]];
        var groups = Ran.With(["tune", .. both, "--json"]).Json().GetProperty("groups").EnumerateArray().ToList();
        Assert.Equal([false, true], groups.Select(g => g.GetProperty("categoryAssumed").GetBoolean()));
        Assert.All(groups, g => Assert.Equal(1, g.GetProperty("patients").GetInt32()));
        Assert.Contains(Adult, groups[1].GetRawText(), StringComparison.Ordinal);
        Assert.Contains("Adult (assumed): source averaging", Ran.With(["tune", .. both]).Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Tune_names_the_SpO2_column_and_what_was_in_doubt_in_reading()
    {
        folder.Write("ward/several.csv", "Time,SpO2 1,SpO2 2,SpO2 3\n" + string.Concat(Enumerable.Range(0, 900).Select(t => $"{t},{(t is > 300 and < 400 ? 80 : 96)},97,97\n")));
        var ran = Ran.With("tune", folder["ward/several.csv"]);
        Assert.Contains("SpO2 from the column SpO2 1 (of 3): several.csv", ran.Words, StringComparison.Ordinal);
        Assert.Contains("[time.unit]", ran.Words, StringComparison.Ordinal);
        var recording = Ran.With("tune", folder["ward/several.csv"], "--json").Json().GetProperty("recordings")[0];
        Assert.Equal("SpO2 1", recording.GetProperty("channel").GetString());
        var inspected = Ran.With("inspect", folder["ward/several.csv"], "--json").Json().GetProperty("recordings")[0];
        Assert.Equal(inspected.GetProperty("issues").GetRawText().Length, recording.GetProperty("issues").GetRawText().Length);

        Assert.Contains("several.csv · column SpO2 2 (of 3)", Ran.With("review", folder["ward/several.csv"], "--channel", "SpO2 2").Words, StringComparison.Ordinal);
        Assert.Equal("SpO2 2", Ran.With("review", folder["ward/several.csv"], "--channel", "SpO2 2", "--json").Json().GetProperty("channel").GetString());
    }

    private void Manifest(string recordings) =>
        folder.Write("ward/ward.json", $$"""{ "format": "stillwatch.ward/1", "recordings": [ {{recordings}} ] }""");
}
