using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Signals;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;

namespace Stillwatch.App.Tests.Workbench;

/// <summary>From a file to a recording of the library: the road that the page and the command share.</summary>
public sealed class ImportTests : IAsyncLifetime
{
    private const string Log = "Start,End,Alarm,Priority\n2026-03-02T22:10:10,2026-03-02T22:12:20,SpO2 low,medium\n";

    private readonly Folder folder = new();
    private TestStore store = null!;

    public async ValueTask InitializeAsync() => store = await TestStore.OpenAsync();

    public async ValueTask DisposeAsync()
    {
        await store.DisposeAsync();
        folder.Dispose();
    }

    private ImportService Import => new(store.Store);

    private static ReadingChoices Choices => new ReadingAnswers().Choices();

    [Fact]
    public async Task What_ward_json_knows_is_stored_with_the_recording_and_its_alarm_log()
    {
        folder.WriteNight("night.csv");
        folder.Write("log.csv", Log);
        folder.Write("ward.json", """{ "format": "stillwatch.ward/1", "invented": true, "recordings": [ { "file": "night.csv", "patient": "p-7", "category": "hypercapnic", "sourceAveragingSeconds": 8, "oxygen": "oxygen", "alarmLog": "log.csv" } ] }""");
        var preview = ImportService.Preview(folder["night.csv"], Choices);
        Assert.Empty(preview.Questions);
        await Import.StoreAsync(new ImportRequest(folder["night.csv"], Choices, preview.Known, folder[preview.AlarmLog!]), Actor.Local, null, TestStore.Token);

        var stored = Assert.Single(await store.AllAsync());
        Assert.Equal(("p-7", "hypercapnic", "oxygen", 8m, true), (stored.Description.Patient, stored.Description.Category, stored.Description.Oxygen, stored.Description.SourceAveragingSeconds, stored.IsInvented));
        var loaded = await new RecordingLibrary(store.Store).LoadAsync(stored, TestStore.Token);
        var signal = Assert.Single(FidelityJob.LogOf(loaded)!.Signals);
        Assert.Equal("22:10:10", loaded.Recording.Start.ClockAt(signal.Start));
    }

    [Fact]
    public async Task The_same_bytes_under_another_name_are_there_already()
    {
        folder.WriteNight("a.csv");
        File.Copy(folder["a.csv"], folder["b.csv"]);
        Assert.Equal(StoreOutcome.Stored, await StoreAsync("a.csv"));
        Assert.Equal(StoreOutcome.AlreadyThere, await StoreAsync("b.csv"));
        Assert.Single(await store.AllAsync());
    }

    [Fact]
    public async Task Waveforms_and_columns_of_no_known_meaning_are_stored_too()
    {
        folder.Write("wide.csv", "Time,SpO2,PLETH,Gain 3\n2026-03-02T22:00:00,97,0.5,3\n2026-03-02T22:00:01,96,0.6,4\n");
        await StoreAsync("wide.csv");
        var stored = Assert.Single(await store.AllAsync());
        Assert.Equal([ChannelKind.SpO2, ChannelKind.Pleth, ChannelKind.Other], stored.Channels.Select(c => c.Kind));
    }

    // Each line: the question asked, the table that raises it, what answers it.
    [Theory]
    [InlineData("WhichSpO2", "Time,SpO2 1,SpO2 2\n2026-03-02T22:00:00,97,91\n2026-03-02T22:00:01,96,90\n", "spo2")]
    [InlineData("IsThereSpO2", "Time,Reading A,Reading B\n2026-03-02T22:00:00,97,1\n2026-03-02T22:00:01,96,2\n", "spo2")]
    [InlineData("WhichDateOrder", "Time,SpO2\n03/04/2026 10:00:00,97\n03/04/2026 10:00:01,96\n", "order")]
    public void What_is_in_doubt_is_asked_and_an_answer_ends_the_question(string question, string table, string answer)
    {
        folder.Write("t.csv", table);
        var asked = ImportService.Preview(folder["t.csv"], Choices);
        Assert.Equal([question], asked.Questions.Select(q => q.ToString()));

        var answers = new ReadingAnswers();
        if (answer == "spo2") answers.SpO2 = asked.Channels[^1].Label;
        else answers.DateOrder = Formats.Csv.DateOrder.MonthFirst;
        var again = ImportService.Preview(folder["t.csv"], answers.Choices());
        Assert.Empty(again.Questions);
        if (answer == "spo2") Assert.Equal(asked.Channels[^1].Label, again.SpO2!.Label);
        else Assert.Equal("2026-03-04 10:00:00, zone unknown", again.Start.ToString());
    }

    [Fact]
    public void A_table_without_times_is_read_once_the_period_is_told()
    {
        folder.Write("t.csv", "SpO2,Pulse\n97,70\n96,71\n");
        var recording = new ArrivedRecording("t.csv");
        recording.Read(folder["t.csv"], null, TestStore.Token);
        Assert.Null(recording.Preview);
        Assert.Equal("t.csv, line 1", recording.Trouble!.Where);
        Assert.False(recording.CanBeStored);

        recording.Answers.PeriodSeconds = 2;
        recording.Read(folder["t.csv"], null, TestStore.Token);
        Assert.Null(recording.Trouble);
        Assert.Equal(Duration.FromSeconds(4), recording.Preview!.Length);
        Assert.True(recording.CanBeStored);
    }

    [Fact]
    public void A_name_that_another_system_allows_is_not_said_to_be_missing()
    {
        Assert.SkipWhen(OperatingSystem.IsWindows(), "No file can have such a name here.");
        folder.WriteNight("bed \"5\".csv", 60);
        var stop = Assert.Throws<StopException>(() => ImportService.Preview(folder["bed \"5\".csv"], new ReadingAnswers().Choices()));
        Assert.Equal("the name \"bed \"5\".csv\"", stop.Trouble.Found);
    }

    [Fact]
    public void A_table_without_a_header_is_read_once_its_columns_are_named_by_number()
    {
        folder.Write("t.csv", "0,97,70\n1,96,71\n2,96,71\n");
        var recording = new ArrivedRecording("t.csv");
        recording.Read(folder["t.csv"], null, TestStore.Token);
        Assert.Null(recording.Preview);
        Assert.DoesNotContain("--", recording.Trouble!.LikelyCause, StringComparison.Ordinal); // fields, not options of a command
        (recording.Answers.Time, recording.Answers.SpO2, recording.Answers.PulseRate) = ("#1", "#2", "#3");
        recording.Read(folder["t.csv"], null, TestStore.Token);
        Assert.Null(recording.Trouble);
        Assert.Equal(97, recording.Preview!.SpO2!.Greatest);
        Assert.True(recording.CanBeStored);
    }

    [Fact]
    public void What_is_in_doubt_cannot_be_stored_before_somebody_looked()
    {
        folder.Write("t.csv", "Time,SpO2 1,SpO2 2\n2026-03-02T22:00:00,97,91\n2026-03-02T22:00:01,96,90\n");
        var recording = new ArrivedRecording("t.csv");
        recording.Read(folder["t.csv"], null, TestStore.Token);
        Assert.False(recording.CanBeStored);
        recording.IsConfirmed = true;
        Assert.True(recording.CanBeStored);
    }

    [Fact]
    public void Another_answer_is_read_and_looked_at_before_anything_is_stored_so()
    {
        folder.Write("t.csv", "Time,SpO2 1,SpO2 2\n2026-03-02T22:00:00,97,91\n2026-03-02T22:00:01,96,90\n");
        var recording = new ArrivedRecording("t.csv");
        recording.Read(folder["t.csv"], null, TestStore.Token);
        recording.IsConfirmed = true;
        recording.Answers.SpO2 = "SpO2 2";
        Assert.False(recording.CanBeStored); // what was looked at is column 1
        Assert.True(recording.NeedsAWord);
        recording.Read(folder["t.csv"], null, TestStore.Token);
        Assert.Equal("SpO2 2", recording.Preview!.SpO2!.Label);
        Assert.True(recording.CanBeStored);

        recording.Answers.Time = "no such column";
        recording.Read(folder["t.csv"], null, TestStore.Token);
        Assert.NotNull(recording.Trouble);
        Assert.False(recording.CanBeStored);
    }

    [Fact]
    public void The_recordings_of_a_folder_are_those_of_ward_json_and_the_others_but_not_the_alarm_logs()
    {
        foreach (string name in new[] { "a.csv", "extra.csv" }) folder.WriteNight(name, 60);
        folder.Write("log.csv", Log);
        folder.Write("settings.json", """{ "format": "stillwatch.settings/1", "settings": [ { "name": "a" } ] }""");
        folder.Write("ward.json", """{ "format": "stillwatch.ward/1", "recordings": [ { "file": "a.csv", "patient": "p", "category": "adult", "alarmLog": "log.csv" } ] }""");
        Assert.Equal(["a.csv", "extra.csv"], ImportService.RecordingsIn(folder.Path, ["a.csv", "extra.csv", "log.csv", "settings.json", "ward.json"]));
    }

    [Fact]
    public async Task A_cancelled_import_leaves_nothing()
    {
        folder.WriteNight("night.csv");
        using var cancelled = new CancellationTokenSource();
        await cancelled.CancelAsync();
        var request = new ImportRequest(folder["night.csv"], Choices, RecordingDescription.Nothing, null);
        await Assert.ThrowsAnyAsync<OperationCanceledException>(() => Import.StoreAsync(request, Actor.Local, null, cancelled.Token));
        Assert.Empty(await store.AllAsync());
    }

    private Task<StoreOutcome> StoreAsync(string name) =>
        Import.StoreAsync(new ImportRequest(folder[name], Choices, RecordingDescription.Nothing, null), Actor.Local, null, TestStore.Token);
}
