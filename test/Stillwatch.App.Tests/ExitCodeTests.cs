using Stillwatch.App.Commands;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>The exit codes that every --help prints.</summary>
public sealed class ExitCodeTests : IDisposable
{
    private readonly Folder folder = new();

    public ExitCodeTests()
    {
        folder.WriteNight("night.csv", 1800);
        folder.Write("empty.csv", "");
        folder.Write("words.csv", "Dear colleague,\nplease find the minutes of our meeting.\n");
        folder.Write("no-spo2.csv", "Time,Pulse\n2026-03-02T22:00:00,71\n2026-03-02T22:00:01,72\n2026-03-02T22:00:02,72\n");
        folder.Write("all-zero.csv", "Time,SpO2\n2026-03-02T22:00:00,0\n2026-03-02T22:00:01,0\n2026-03-02T22:00:02,0\n");
        folder.Write("broken.json", "{ \"format\": ");
        Directory.CreateDirectory(folder["empty"]);
        Directory.CreateDirectory(folder["mixed"]);
        File.Copy(folder["night.csv"], folder["mixed/a.csv"]);
        File.Copy(folder["empty.csv"], folder["mixed/b.csv"]);
    }

    public void Dispose() => folder.Dispose();

    [Theory]
    // 0: done, also with a refused proposal
    [InlineData(0, "inspect {}/night.csv")]
    [InlineData(0, "inspect {}/no-spo2.csv")]
    [InlineData(0, "inspect {}/all-zero.csv")]
    [InlineData(0, "review {}/night.csv")]
    [InlineData(0, "tune {}/night.csv")]
    [InlineData(0, "export {}/night.csv --to {}/new.json")]
    [InlineData(0, "export {}/no-spo2.csv --to {}/new.parquet")]
    [InlineData(0, "export {}/all-zero.csv --to {}/new.csv")]
    [InlineData(0, "--help")]
    [InlineData(0, "tune --help")]
    [InlineData(0, "--version")]
    // 2: the command line
    [InlineData(2, "")]
    [InlineData(2, "inspect")]
    [InlineData(2, "quieten {}/night.csv")]
    [InlineData(2, "review {}/night.csv {}/night.csv")]
    [InlineData(2, "review {}/night.csv --averaging long")]
    [InlineData(2, "review {}/night.csv --averaging -1")]
    [InlineData(2, "review {}/night.csv --averaging 301")]
    [InlineData(2, "review {}/night.csv --averaging 3,5")]
    [InlineData(2, "review {}/night.csv --validity some")]
    [InlineData(2, "review {}/night.csv --category grown-up")]
    [InlineData(2, "tune {}/night.csv --limits 100..70")]
    [InlineData(2, "tune {}/night.csv --limits 70..101")]
    [InlineData(2, "tune {}/night.csv --delays 0..300/0")]
    [InlineData(2, "tune {}/night.csv --limits 1..100/0.5 --areas 0..100000/30")]
    [InlineData(2, "tune {}/night.csv --unknown")]
    [InlineData(2, "review {}/night.csv --map sp02=SpO2")]
    [InlineData(2, "demo --seed minus")]
    [InlineData(2, "review {}/night.csv --report {}/night.csv")]
    [InlineData(2, "tune {}/mixed/a.csv --report {}/mixed/../mixed/a.csv")]
    [InlineData(2, "export {}/night.csv")]
    [InlineData(2, "export {}/night.csv --to {}/night.docx")]
    [InlineData(2, "export {}/night.csv --to {}/night")]
    [InlineData(2, "export {}/night.csv --to {}/night.csv --replace")]
    [InlineData(2, "export {}/night.csv --to {}/mixed/../night.csv --replace")]
    [InlineData(2, "export {}/night.csv --to {}/no-spo2.csv")]
    [InlineData(2, "export {}/night.csv --to {}/new.json --secret {}/s.txt")]
    [InlineData(2, "export {}/night.csv --to {}/new.json --patient A")]
    // 3: files
    [InlineData(3, "export {}/missing.csv --to {}/new.json")]
    [InlineData(3, "export {}/words.csv --to {}/new.json")]
    [InlineData(3, "export {}/night.csv --to {}/no/such/folder/new.json")]
    [InlineData(3, "export {}/night.csv --to {}/new.json --de-identify --secret {}/night.csv")]
    [InlineData(3, "export {}/night.csv --to {}/new.json --settings {}/broken.json")]
    [InlineData(3, "inspect {}/broken.json")]
    [InlineData(3, "inspect {}/missing.csv")]
    [InlineData(3, "inspect {}/empty.csv")]
    [InlineData(3, "inspect {}/night.csv {}/missing.csv")]
    [InlineData(3, "review {}/words.csv")]
    [InlineData(3, "review {}")]
    [InlineData(3, "review {}/night.csv --settings {}/missing.json")]
    [InlineData(3, "review {}/night.csv --settings {}/broken.json")]
    [InlineData(3, "review {}/night.csv --report {}/no/such/folder/r.html")]
    [InlineData(3, "tune {}/empty")]
    [InlineData(3, "tune {}/mixed")]
    [InlineData(3, "ward {}/night.csv")]
    [InlineData(3, "ward {}/mixed")]
    [InlineData(3, "demo --folder {}/night.csv")]
    // 4: nothing to compute from
    [InlineData(4, "review {}/no-spo2.csv")]
    [InlineData(4, "review {}/all-zero.csv")]
    [InlineData(4, "tune {}/no-spo2.csv")]
    [InlineData(4, "tune {}/all-zero.csv")]
    public void A_command_line_ends_with_its_documented_code(int code, string line)
    {
        var ran = Ran.With(line.Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(a => a.Replace("{}", folder.Path, StringComparison.Ordinal)).ToArray());
        Assert.True((int)ran.ExitCode == code, $"found {(int)ran.ExitCode}, expected {code}:\n{ran.Error}\n{ran.Out}");
        if (code == 0) Assert.Empty(ran.Error);
        else Assert.StartsWith("stillwatch: ", ran.Error, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("review {}/all-zero.csv --json")]
    [InlineData("review {}/missing.csv --json")]
    [InlineData("review {}/night.csv --averaging long --json")]
    public void Trouble_goes_to_standard_error_and_leaves_standard_output_empty(string line)
    {
        var ran = Ran.With(line.Split(' ').Select(a => a.Replace("{}", folder.Path, StringComparison.Ordinal)).ToArray());
        Assert.Empty(ran.Out);
        Assert.NotEmpty(ran.Error);
    }

    [Fact]
    public void Trouble_with_a_file_says_found_expected_where_and_likely_cause()
    {
        var ran = Ran.With("review", folder["missing.csv"]);
        Assert.Contains("found no such file expected an existing file where " + folder["missing.csv"] + " likely cause", ran.ErrorWords, StringComparison.Ordinal);
    }

    [Fact]
    public void What_can_be_read_is_shown_although_another_file_cannot()
    {
        var ran = Ran.With("inspect", folder["night.csv"], folder["missing.csv"], "--json");
        Assert.Equal(ExitCode.Unreadable, ran.ExitCode);
        var json = ran.Json();
        Assert.Equal(1, json.GetProperty("recordings").GetArrayLength());
        Assert.Equal(folder["missing.csv"], json.GetProperty("unreadable")[0].GetProperty("file").GetString());
    }

    [Fact]
    public void Input_files_are_only_read()
    {
        string night = folder["night.csv"];
        var (before, written) = (File.ReadAllBytes(night), File.GetLastWriteTimeUtc(night));
        foreach (string command in new[] { "inspect", "review", "tune" }) Ran.With(command, night);
        Assert.Equal(before, File.ReadAllBytes(night));
        Assert.Equal(written, File.GetLastWriteTimeUtc(night));
    }
}
