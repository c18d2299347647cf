using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.ReportList;
using Stillwatch.App.Workbench.Review;
using Stillwatch.App.Workbench.Summary;
using Stillwatch.Reports.Model;
using Stillwatch.Storage;
using Stillwatch.Storage.Settings;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>What one shift hands to the next: nothing pending is left out, and what was seen is not asked for again.</summary>
public class SummaryRunTests
{
    [Fact]
    public async Task Recordings_fall_into_shifts_from_noon_to_noon_the_newest_first()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var shifts = Shift.Of(await library.AllAsync());
        Assert.Equal(["night of 2026-03-03 (noon to noon)", "night of 2026-03-02 (noon to noon)"], shifts.Select(s => s.Words));
        Assert.All(shifts, s => Assert.Equal(2, s.Recordings.Count));
    }

    [Fact]
    public async Task Must_catch_events_without_a_mark_are_pending_until_somebody_marked_them()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var before = (await SummaryAsync(library)).Patients[0];
        var events = before.Recording!.MustCatch;
        Assert.NotEmpty(events);
        Assert.Contains(before.Pending, p => p.StartsWith($"{events.Count} must-catch event", StringComparison.Ordinal));
        var recording = Shift.Of(await library.AllAsync())[0].Recordings.Single(r => r.Description.Patient == before.Patient);
        foreach (var one in events)
            await library.Store.Marks.AddAsync(recording.Id, new ReviewMark("AB", new TimeSlice(one.Event.Onset, one.Event.End), MarkVerdict.RealAndSignificant), Actor.Local, TestContext.Current.CancellationToken);
        Assert.Empty((await SummaryAsync(library)).Patients.Single(p => p.Patient == before.Patient).Pending);
    }

    // days from now until the deviation ends | what is said
    [Theory]
    [InlineData(30, null)]
    [InlineData(1, "end on 2026-03-11 (accepted by nurse in charge)")]
    [InlineData(-1, "ended on 2026-03-09 and were not looked at again")]
    public async Task A_deviation_that_ends_soon_or_has_ended_is_pending(int days, string? said)
    {
        await using var library = await SmallLibrary.OfAsync(1);
        await AddAsync(library, SettingsScope.Patient, "patient-01", SmallLibrary.Now.AddDays(days));
        var patient = (await SummaryAsync(library)).Patients.Single(p => p.Patient == "patient-01");
        var ends = patient.Pending.Where(p => p.StartsWith("The settings", StringComparison.Ordinal)).ToList();
        if (said is null) Assert.Empty(ends);
        else Assert.Contains(said, Assert.Single(ends), StringComparison.Ordinal);
        var change = Assert.Single(patient.ChangedSince);
        Assert.Equal(("a test", "nurse in charge"), (change.Why, change.By));
    }

    [Fact]
    public async Task What_was_changed_for_the_whole_unit_stands_by_itself()
    {
        await using var library = await SmallLibrary.OfAsync(1);
        Assert.Single((await SummaryAsync(library)).Patients);
        await AddAsync(library, SettingsScope.UnitDefault, null, null);
        var unit = (await SummaryAsync(library)).Patients[^1];
        Assert.Equal((SmallLibrary.Unit, 1), (unit.Patient, unit.ChangedSince.Count));
        Assert.Null(unit.Recording);
    }

    [Fact]
    public async Task What_was_decided_for_real_patients_is_not_in_the_summary_of_invented_ones_not_even_as_what_was_before()
    {
        await using var library = await SmallLibrary.OfAsync(1);
        await AddAsync(library, SettingsScope.UnitDefault, null, SmallLibrary.Now.AddDays(-1), isInvented: false);
        await AddAsync(library, SettingsScope.Patient, "patient-01", SmallLibrary.Now.AddDays(-1), isInvented: false);
        var patient = Assert.Single((await SummaryAsync(library)).Patients);
        Assert.Empty(patient.ChangedSince);
        Assert.DoesNotContain(patient.Pending, p => p.StartsWith("The settings", StringComparison.Ordinal));
        await AddAsync(library, SettingsScope.UnitDefault, null, null, delaySeconds: 20);
        var change = Assert.Single((await SummaryAsync(library)).Patients[^1].ChangedSince);
        Assert.StartsWith("to SpO2 below 90 % for more than 20 s", change.What);
        await AddAsync(library, SettingsScope.UnitDefault, null, null, delaySeconds: 25);
        Assert.StartsWith("from SpO2 below 90 % for more than 20 s", (await SummaryAsync(library)).Patients[^1].ChangedSince[1].What);
    }

    // when the shift ended, noon on its own clock | where a change of 10 March, 08:00 stands
    [Theory]
    [InlineData("2026-03-04 12:00", "since")]
    [InlineData("2026-03-10 12:00", "changed")] // still running: it ends now
    [InlineData("2026-03-09 12:00", "since")]
    [InlineData("2026-03-25 12:00", "changed")]
    [InlineData(null, "changed")]
    public async Task A_change_made_after_the_shift_is_no_change_of_that_shift(string? ended, string where)
    {
        await using var library = await SmallLibrary.OfAsync(1);
        await AddAsync(library, SettingsScope.UnitDefault, null, null);
        var end = ended is null ? (DateTime?)null : DateTime.ParseExact(ended, "yyyy-MM-dd HH:mm", System.Globalization.CultureInfo.InvariantCulture);
        var unit = (await SummaryAsync(library, s => s with { End = end })).Patients[^1];
        Assert.Equal(where == "changed" ? (1, 0) : (0, 1), (unit.Changed.Count, unit.ChangedSince.Count));
    }

    [Fact]
    public async Task A_shift_ends_at_the_noon_after_its_evening()
    {
        await using var library = await SmallLibrary.OfAsync(1);
        Assert.Equal([new DateTime(2026, 3, 4, 12, 0, 0), new DateTime(2026, 3, 3, 12, 0, 0)], Shift.Of(await library.AllAsync()).Select(s => s.End!.Value));
    }

    private static Task<SettingsEntry> AddAsync(SmallLibrary library, SettingsScope scope, string? patient, DateTimeOffset? until, bool isInvented = true, int delaySeconds = 15) => library.Store.Settings.AddAsync(
        new NewSettingsEntry { Scope = scope, Category = "adult", Unit = SmallLibrary.Unit, Patient = patient, Name = "tried out", SettingsJson = SettingsForm.JsonOf(SmallLibrary.InForce("adult", delaySeconds)), Why = "a test", AcceptedBy = "nurse in charge", ValidUntil = until, EvidenceJson = new DecisionGrounds(isInvented, []).ToJson() },
        Actor.Local, TestContext.Current.CancellationToken);

    private static async Task<ShiftSummaryModel> SummaryAsync(SmallLibrary library, Func<Shift, Shift>? bent = null) =>
        (await new SummaryRun(library.Store, library.Loader, new EvidenceRun(library.Loader, library.Finder), new ReportKeeper(library.Store, library.Clock), library.Clock)
            .RunAsync((bent ?? (s => s))(Shift.Of(await library.AllAsync())[0]), await library.AllAsync(), SmallLibrary.Unit, new SmallLibrary.Silence(), TestContext.Current.CancellationToken)).Model;
}
