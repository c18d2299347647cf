using System.Globalization;
using Stillwatch.Alarms;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Tests.Samples;

namespace Stillwatch.Reports.Tests.Page;

/// <summary>The numbers in the tables are the model's own.</summary>
public sealed class TableTests
{
    private static readonly RecordingSection Section = InventedReports.Adults.Recordings[0];

    [Fact]
    public void Exposure_is_the_reviews()
    {
        var rows = PageReader.Table(PageReader.Page(InventedReports.Adults), "Time below");
        Assert.Equal(Section.Review!.Exposure.Below.Count + 1, rows.Count);
        foreach (var (below, row) in Section.Review.Exposure.Below.Zip(rows.Skip(1)))
        {
            Assert.Equal($"below {below.Level.Value:0} %", row[0]);
            Assert.Equal(below.PercentOfValid, double.Parse(row[2].Replace("less than 0.1", "0").TrimEnd('%', ' '), CultureInfo.InvariantCulture), 0.051);
            Assert.Equal(below.MinutesPerHour, double.Parse(row[3], CultureInfo.InvariantCulture), 0.051);
        }
    }

    [Fact]
    public void Every_signal_stands_in_the_table_of_signals()
    {
        var rows = PageReader.Table(PageReader.Page(InventedReports.Adults), "Alarm signals under present settings");
        Assert.Equal(Section.PresentSignals!.Count, rows.Count - 1);
        Assert.Equal(Section.PresentSignals.Count(s => s.HighestPriority == AlarmPriority.High), rows.Count(r => r[2] == "high"));
    }

    [Fact]
    public void Every_must_catch_event_and_every_fall_stands_in_its_table()
    {
        var page = PageReader.Page(InventedReports.Adults);
        var events = PageReader.Table(page, "Must-catch events");
        Assert.Equal(Section.MustCatch.Count, events.Count - 1);
        Assert.NotEmpty(Section.MustCatch);
        Assert.All(Section.MustCatch.Zip(events.Skip(1)), pair => Assert.Equal($"{pair.First.Event.Nadir.Value:0} %", pair.Second[4]));
        Assert.Equal(Section.Review!.Events!.Count, PageReader.Table(page, "Falls of at least 3 points").Count - 1);
    }

    [Fact]
    public void Times_at_each_percent_are_the_histograms_and_only_percents_that_occur()
    {
        var rows = PageReader.Table(PageReader.Page(InventedReports.Adults), "Time at each whole percent");
        var histogram = Section.Review!.Exposure.Histogram;
        Assert.Equal(Enumerable.Range(0, histogram.Count).Reverse().Where(p => histogram[p] > default(Time.Duration)).Select(p => $"{p} %"), rows.Skip(1).Select(r => r[0]));
    }

    [Fact]
    public void Loads_are_the_proposals()
    {
        var proposal = InventedReports.Adults.Settings[0].Proposal!;
        var rows = PageReader.Table(PageReader.Page(InventedReports.Adults), "Alarm load");
        Assert.Equal("Present settings", rows[1][0]);
        Assert.Equal(proposal.Present!.SignalsPerDay.Value, double.Parse(rows[1][2], CultureInfo.InvariantCulture), 0.51);
        Assert.Equal(proposal.Present.SignalMinutesPerDay, double.Parse(rows[1][4], CultureInfo.InvariantCulture), 0.051);
    }

    [Fact]
    public void Patients_stand_in_the_order_of_their_load_with_both_denominators_apart()
    {
        var ward = InventedReports.Ward.Ward!;
        var rows = PageReader.Table(PageReader.Page(InventedReports.Ward), "Alarm load of each patient");
        var expected = ward.Patients.OrderByDescending(p => p.PresentSignals * 24 / p.Valid.Hours).ToList();
        Assert.Equal(expected.Select(p => p.Patient), rows.Skip(1).Select(r => r[0]));
        foreach (var (patient, row) in expected.Zip(rows.Skip(1)))
        {
            Assert.Equal(patient.PresentSignals!.Value * 24 / patient.Valid.Hours, double.Parse(row[6], CultureInfo.InvariantCulture), 0.51);
            Assert.Equal(patient.TechnicalSignals!.Value * 24 / patient.Connected.Hours, double.Parse(row[8], CultureInfo.InvariantCulture), 0.51);
        }
    }

    [Fact]
    public void Without_loads_given_the_rows_come_from_the_proposal_and_a_refused_one_has_no_bar()
    {
        var refused = HandMade.SettingsSection(HandMade.Proposal(HandMade.Evidence(HandMade.Settings(88, 15), 9), HandMade.Evidence(HandMade.Settings(90, 10), 38), "R14.8: one patient only."));
        Assert.Equal(["Present settings"], Reports.Page.SettingsPart.LoadsOf(refused).Select(r => r.Label));
        Assert.Equal(["What", "Present", "Looked at, not good enough"], PageReader.Table(PageReader.Page(HandMade.Report() with { Settings = [refused] }), "On the same recordings")[0]);
    }

    [Fact]
    public void The_worst_events_are_the_deepest_and_a_must_catch_event_is_never_drawn_twice()
    {
        var worst = WorstEvent.Of(Section, 6);
        Assert.Equal(worst.OrderBy(e => e.Nadir).Select(e => e.Nadir), worst.Select(e => e.Nadir));
        Assert.Equal(Section.MustCatch.Min(m => m.Event.Nadir), worst[0].Nadir);
        int[] numbers = [.. worst.SelectMany(e => e.MustCatch.Select(m => m.Number))];
        Assert.Equal(numbers.Length, numbers.Distinct().Count());
    }
}
