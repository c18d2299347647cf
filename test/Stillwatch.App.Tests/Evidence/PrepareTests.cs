using Stillwatch.Alarms;
using Stillwatch.App.Files;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.App.Workbench.Prepare;
using Stillwatch.App.Workbench.ReportList;
using Stillwatch.Quantities;
using Stillwatch.Storage.Settings;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>Preparing a patient: a reason beside each number, what differs and until when.</summary>
public class PrepareTests
{
    private static readonly DateOnly Today = new(2026, 3, 10);

    [Theory]
    [InlineData("adult", null, false, "", "adult")]
    [InlineData("hypercapnic", null, false, "oxygen", "hypercapnic")]
    [InlineData("child", 8, true, "air", "paediatric:8mo")]
    [InlineData("child", 4, false, "air", "paediatric:4y")]
    [InlineData("neonate", null, false, "air", "neonate-air")]
    [InlineData("neonate", null, false, "", "neonate-oxygen")] // not known: the category that guards against too much
    public void Category_age_and_oxygen_lead_to_a_preset(string group, int? age, bool months, string oxygen, string preset) =>
        Assert.Equal(preset, new PatientForm { Group = group, Age = age, AgeUnit = months ? "mo" : "y", Oxygen = oxygen }.Preset!.Name);

    [Fact]
    public void What_is_missing_in_the_form_is_said()
    {
        Assert.Contains("give it", new PatientForm { Group = "child" }.Missing, StringComparison.Ordinal);
        Assert.Contains("under 18 years", new PatientForm { Group = "child", Age = 18 }.Missing, StringComparison.Ordinal);
        Assert.Contains("both ends", new PatientForm { TargetLow = 88 }.Missing, StringComparison.Ordinal);
        Assert.Contains("found 92 to 88 %", new PatientForm { TargetLow = 92, TargetHigh = 88 }.Missing, StringComparison.Ordinal);
        Assert.Null(new PatientForm { TargetLow = 88, TargetHigh = 92 }.Missing);
    }

    [Fact]
    public void A_number_that_was_changed_says_so_and_what_the_unit_usually_has()
    {
        var prepared = Of(CategoryPresets.Adult.ToSettings() with { SpO2Low = new LimitSettings<Percent>(Percent.Of(88), Duration.FromSeconds(10), Area.Zero, default) }, why: "lung fibrosis");
        var low = prepared.Lines.Single(l => l.Label == "SpO2 low limit");
        Assert.Equal(("88 %", "changed here: lung fibrosis", "90 %"), (low.Value, low.Reason, low.UnitDefault));
        var delay = prepared.Lines.Single(l => l.Label == "SpO2 low delay");
        Assert.Equal(("10 s", CategoryPresets.UnitPolicy, (string?)null), (delay.Value, delay.Reason, delay.UnitDefault));
    }

    [Fact]
    public void A_deviation_needs_a_reason_and_an_end_and_what_does_not_deviate_needs_neither()
    {
        var deviating = Of(CategoryPresets.Adult.ToSettings() with { Backstop = null });
        Assert.Equal(4, PrepareDesk.Missing(deviating, Today).Count);
        var usual = Of(CategoryPresets.Adult.ToSettings());
        usual.Patient.Patient = "P1";
        Assert.Empty(PrepareDesk.Missing(usual with { AcceptedBy = "nurse in charge" }, Today));
    }

    [Fact]
    public void A_default_that_the_unit_wrote_down_is_where_a_person_begins_and_the_prescription_bends_it()
    {
        var own = CategoryPresets.AdultHypercapnicRisk.ToSettings() with { SpO2Low = new LimitSettings<Percent>(Percent.Of(85), Duration.FromSeconds(20), Area.Of(60), default) };
        var written = new KnownSettings(new NamedSettings("ours", "hypercapnic", own), "written down");
        var asUsual = StartingSettings.For(CategoryPresets.AdultHypercapnicRisk, true, new PercentRange(Percent.Of(88), Percent.Of(92)));
        Assert.Equal(own, Prepared.Beginning(asUsual, CategoryPresets.AdultHypercapnicRisk, written));
        var higher = StartingSettings.For(CategoryPresets.AdultHypercapnicRisk, true, new PercentRange(Percent.Of(90), Percent.Of(94)));
        var bent = Prepared.Beginning(higher, CategoryPresets.AdultHypercapnicRisk, written);
        Assert.Equal((Percent.Of(88), Duration.FromSeconds(20), Percent.Of(96)), (bent.SpO2Low!.Limit, bent.SpO2Low.Delay, bent.SpO2High!.Limit));
        var onAir = StartingSettings.For(CategoryPresets.AdultHypercapnicRisk, false, null);
        Assert.Null(Prepared.Beginning(onAir, CategoryPresets.AdultHypercapnicRisk, written).SpO2High);
    }

    [Fact]
    public void A_number_that_nobody_decided_is_said_to_be_ours_and_one_that_the_unit_decided_names_that_decision()
    {
        var ours = Of(CategoryPresets.Adult.ToSettings());
        string Reason(Prepared prepared, string label) => PreparedReason.Of(prepared.Lines.Single(l => l.Label == label), prepared.UnitDefault);
        Assert.Equal("Stillwatch's starting value; unit policy, no source: replace it by your unit's", Reason(ours, "SpO2 low delay"));
        Assert.StartsWith("from memory", Reason(ours, "SpO2 low limit"), StringComparison.Ordinal);
        var decided = ours with { UnitDefault = new KnownSettings(new NamedSettings("ours", "adult", CategoryPresets.Adult.ToSettings()), "written down 2026-03-01, accepted by ward lead") };
        Assert.Equal("the unit's default, written down 2026-03-01, accepted by ward lead", Reason(decided, "SpO2 low limit"));
        var changed = decided with { Settings = CategoryPresets.Adult.ToSettings() with { Backstop = new BackstopSettings(Percent.Of(78), Duration.Zero) }, Why = "a test" };
        Assert.Equal("changed here: a test", Reason(changed, "Backstop limit"));
    }

    [Fact]
    public async Task It_is_written_down_for_one_patient_and_a_card_is_kept()
    {
        await using var library = await SmallLibrary.OfAsync(0);
        var prepared = Of(CategoryPresets.Adult.ToSettings()) with { AcceptedBy = "nurse in charge" };
        prepared.Patient.Patient = "P1";
        prepared.Patient.Unit = SmallLibrary.Unit;
        var desk = new PrepareDesk(library.Store, new ReportKeeper(library.Store, library.Clock), library.Finder, library.Clock);
        var (entry, card) = await desk.KeepAsync(prepared, TestContext.Current.CancellationToken);
        Assert.Equal((SettingsScope.Patient, "P1", "nurse in charge"), (entry.Content.Scope, entry.Content.Patient, entry.Content.AcceptedBy));
        Assert.Equal("settings card", card.Kind);
    }

    // recordings of the unit that there are | named by | decided on invented data
    [Theory]
    [InlineData("none", "unit", false)]
    [InlineData("invented", "unit", true)]
    [InlineData("invented and real", "unit", false)]
    [InlineData("invented", "patient", true)]
    [InlineData("none", "patient", false)]
    public async Task What_is_prepared_for_an_invented_patient_says_so_and_is_never_a_real_ones(string recordings, string namedBy, bool isInvented)
    {
        await using var library = await SmallLibrary.OfAsync(recordings == "none" ? 0 : 1);
        if (recordings == "invented and real") await library.AddRealAsync("real-1");
        var prepared = Of(CategoryPresets.Adult.ToSettings()) with { AcceptedBy = "nurse in charge" };
        prepared.Patient.Patient = "patient-01";
        if (namedBy == "unit") prepared.Patient.Unit = SmallLibrary.Unit;
        var (entry, _) = await new PrepareDesk(library.Store, new ReportKeeper(library.Store, library.Clock), library.Finder, library.Clock).KeepAsync(prepared, TestContext.Current.CancellationToken);
        Assert.Equal(isInvented, DecisionGrounds.Of(entry).IsInvented);
    }

    private static Prepared Of(AlarmSettings settings, string why = "") => new(
        new PatientForm(), StartingSettings.For(CategoryPresets.Adult, null, null), settings,
        new KnownSettings(new NamedSettings("usual", "adult", CategoryPresets.Adult.ToSettings()), "the category's starting settings") { IsWrittenDown = false }, why, "", null);
}
