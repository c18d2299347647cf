using Stillwatch.Storage.Settings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Storage.Tests.Servers;

namespace Stillwatch.Storage.Tests;

public abstract class SettingsHistoryTests(Stores stores)
{
    private static CancellationToken Ended => TestContext.Current.CancellationToken;

    internal static NewSettingsEntry Entry(string name, SettingsScope scope = SettingsScope.UnitDefault, string? unit = "Ward 3", string? patient = null) => new()
    {
        Scope = scope,
        Category = "adult",
        Unit = unit,
        Patient = patient,
        Name = name,
        SettingsJson = $"{{\"name\":\"{name}\"}}",
        Why = "fewer signals that meant nothing",
        AcceptedBy = "senior nurse",
        ValidUntil = new DateTimeOffset(2031, 6, 1, 8, 0, 0, TimeSpan.FromHours(2)),
        EvidenceJson = "{\"load\":12.5}",
    };

    [Fact]
    public async Task A_line_says_who_when_from_to_and_why()
    {
        await using var store = await stores.NewAsync();
        var first = await store.Settings.AddAsync(Entry("first"), Invented.Nurse, Ended);
        var second = await store.Settings.AddAsync(Entry("second") with { ValidUntil = null, EvidenceJson = null }, Actor.Local, Ended);
        Assert.Equal((Entry("first"), null, Invented.Nurse), (first.Content, first.PreviousSettingsJson, first.By));
        Assert.Equal("{\"name\":\"first\"}", second.PreviousSettingsJson);
        Assert.True(second.At > first.At && second.Number > first.Number);
        Assert.Equal([second, first], await store.Settings.HistoryAsync(Ended));
        Assert.Equal(TimeSpan.FromHours(2), (await store.Settings.HistoryAsync(Ended))[1].Content.ValidUntil!.Value.Offset);
        var line = (await store.Audit.LatestAsync(1, Ended))[0];
        Assert.Equal(("settings.accepted", $"settings {second.Number}", second.Number), (line.Action, line.Subject, line.Number));
        Assert.Contains("senior nurse", line.DetailJson);
    }

    [Fact]
    public async Task Each_unit_and_each_patient_has_a_last_line_of_its_own()
    {
        await using var store = await stores.NewAsync();
        await store.Settings.AddAsync(Entry("ward 3"), Actor.Local, Ended);
        await store.Settings.AddAsync(Entry("everywhere", unit: " "), Actor.Local, Ended);
        await store.Settings.AddAsync(Entry("one patient", SettingsScope.Patient, patient: "P-17"), Actor.Local, Ended);
        async Task<string?> Last(SettingsScope scope, string category, string? unit, string? patient) => (await store.Settings.LastAsync(scope, category, unit, patient, Ended))?.Content.Name;
        Assert.Equal("ward 3", await Last(SettingsScope.UnitDefault, "adult", "Ward 3", null));
        Assert.Equal("everywhere", await Last(SettingsScope.UnitDefault, "adult", null, ""));
        Assert.Equal("one patient", await Last(SettingsScope.Patient, "adult", "Ward 3", "P-17"));
        Assert.Null(await Last(SettingsScope.Patient, "adult", "Ward 3", "P-18"));
        Assert.Null(await Last(SettingsScope.UnitDefault, "adult", "Ward 4", null));
        Assert.Null(await Last(SettingsScope.UnitDefault, "neonatal-on-air", "Ward 3", null));
        Assert.All(await store.Settings.HistoryAsync(Ended), line => Assert.Null(line.PreviousSettingsJson));
    }

    [Fact]
    public async Task Settings_for_a_patient_name_one_and_a_unit_default_none()
    {
        await using var store = await stores.NewAsync();
        await Assert.ThrowsAsync<ArgumentException>(() => store.Settings.AddAsync(Entry("x", SettingsScope.Patient), Actor.Local, Ended));
        await Assert.ThrowsAsync<ArgumentException>(() => store.Settings.AddAsync(Entry("x", patient: "P-17"), Actor.Local, Ended));
        await Assert.ThrowsAsync<ArgumentException>(() => store.Settings.AddAsync(Entry("x") with { AcceptedBy = " " }, Actor.Local, Ended));
        Assert.Empty(await store.Settings.HistoryAsync(Ended));
    }

    [Fact]
    public async Task A_report_is_kept_as_it_was_handed_over()
    {
        await using var store = await stores.NewAsync();
        byte[] page = [.. Enumerable.Range(0, 70_000).Select(i => (byte)(i * 7 % 251))];
        var first = await store.Reports.AddAsync(new Reports.NewReport("decision", "Ward 3, adults", "application/pdf", page), Invented.Nurse, Ended);
        var second = await store.Reports.AddAsync(new Reports.NewReport("shift summary", "Night", "text/html", []), Actor.Local, Ended);
        Assert.Equal([second, first], await store.Reports.ListAsync(Ended));
        Assert.Equal(70_000, first.Bytes);
        Assert.Equal(page, await store.Reports.ContentAsync(first.Number, Ended));
        Assert.Empty((await store.Reports.ContentAsync(second.Number, Ended))!);
        Assert.Null(await store.Reports.ContentAsync(99, Ended));
        Assert.Contains(first.Sha256, (await store.Audit.LatestAsync(2, Ended))[1].DetailJson);
    }
}

public sealed class SettingsHistoryOnSqlite(SqliteStores stores) : SettingsHistoryTests(stores), IClassFixture<SqliteStores>;

public sealed class SettingsHistoryOnPostgres(PostgresStores stores) : SettingsHistoryTests(stores), IClassFixture<PostgresStores>;
