using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;
using Xunit;

namespace Stillwatch.Tests.Proposals;

public class LostTimeTests
{
    /// <summary>Series as in the rules' case table: value*count, one row a second, '.' a row without a number. Gap tolerance 5 s. Definition: ≤ 85 % for ≥ 60 s or &lt; 80 % for ≥ 15 s; a neighbour below 90 is low.</summary>
    private const string Possible =
        """
        # what it shows | series | certain events | possible events: onset-end, deadlines from onset
        nothing lost, nothing hidden | 96*60 84*59 96*60 | none | none
        lost between high values hides nothing | 96*60 .*90 96*60 | none | none
        lost while low, back high: low neighbour and lost time together | 96*60 86*20 .*90 96*60 | none | 60-170 85,40
        lost while low, too short for either line | 96*60 86*20 .*14 96*60 | none | none
        back low after a loss | 96*60 .*90 86*20 96*60 | none | 65-170 60,15
        a neighbour of 90 is not low | 96*60 90*20 .*90 90*20 96*60 | none | none
        long enough for the deep line alone | 96*60 86*20 .*40 96*60 | none | 60-120 40
        values at the level beside the loss count toward the line, higher ones do not | 96*60 88 84*29 .*40 96*60 | none | 60-130 70,50
        touching a certain event: that event, perhaps longer | 96*60 84*60 .*90 96*60 | 60-125 | none
        a certain event far from the loss hides nothing of it | 84*70 96*60 86*20 .*90 96*60 | 0-70 | 130-240 85,40
        the recording ends while lost | 96*60 86*20 .*90 | none | 60-170 85,40
        the recording begins lost | .*90 86*20 96*60 | none | 0-110 60,15
        two losses in one low stretch are one possible event | 96*60 86*10 .*30 86*10 .*30 96*60 | none | 60-140 30
        dropout codes are no low numbers | 96*60 0*90 96*60 | none | none
        """;

    private static readonly MustCatchDefinition Definition = new("test",
        [new(Percent.Of(85), true, Duration.FromSeconds(60)), new(Percent.Of(80), false, Duration.FromSeconds(15))], "unit policy, no source");

    [Fact]
    public void Invalid_time_next_to_low_values_is_found_where_it_could_hide_an_event()
    {
        foreach (string line in Possible.Split('\n').Where(l => !l.StartsWith('#')))
        {
            string[] cells = line.Split('|', StringSplitOptions.TrimEntries);
            var lost = LostTime.Of(Source(cells[1]), ConditioningSettings.Default);
            var certain = cells[2] == "none" ? [] : new List<MustCatchEvent> { Certain(cells[2]) };
            var found = lost.PossibleEvents(Definition, certain, Percent.Of(90));
            string said = found.Count == 0 ? "none" : string.Join(' ', found.Select(e =>
                $"{e.Onset.Seconds:0}-{e.End.Seconds:0} {string.Join(',', e.Parts.Select(p => $"{p.Within.Seconds:0}"))}"));
            Assert.True(cells[3] == said, $"{cells[0]}: found {said}, expected {cells[3]}");
        }
    }

    [Fact]
    public void Rejected_numbers_at_a_must_catch_level_make_invalid_time_suspect_between_high_values_too()
    {
        // The source flags 90 s in which it read 75 %: hypoxaemia inside artefact.
        decimal?[] values = [.. Enumerable.Repeat(96m, 60).Concat(Enumerable.Repeat(75m, 90)).Concat(Enumerable.Repeat(96m, 60)).Select(v => (decimal?)v)];
        var source = Flagged(values, 60, 150);
        var found = Assert.Single(LostTime.Of(source, ConditioningSettings.Default).PossibleEvents(Definition, [], Percent.Of(90)));
        Assert.Equal((65.0, 150.0), (found.Onset.Seconds, found.End.Seconds));
        Assert.Equal("75 %", found.Nadir.ToString());
        Assert.Equal(["possibly ≤ 85 % for ≥ 60 s", "possibly < 80 % for ≥ 15 s"], found.Parts.Select(p => p.Because));
    }

    [Fact]
    public void Rejected_numbers_above_the_level_leave_it_unsuspected()
    {
        decimal?[] values = [.. Enumerable.Repeat((decimal?)96m, 210)];
        Assert.Empty(LostTime.Of(Flagged(values, 60, 150), ConditioningSettings.Default).PossibleEvents(Definition, [], Percent.Of(90)));
    }

    [Theory]
    [InlineData("96*60 .*15 96*60", 90, 0)] // lost for 10 s: as long as the delay does not signal
    [InlineData("96*60 .*16 96*60", 90, 1)]
    [InlineData("96*60 88*9 .*6 96*60", 90, 1)] // a run was open: at once
    [InlineData("96*60 88*9 .*6 96*60", 88, 0)] // 88 is not below 88
    [InlineData("96*60 88*9 .*5 96*60", 90, 0)] // held to the end
    [InlineData("96*60 .*40 96*60 .*40 96*60", 90, 2)]
    [InlineData(".*20 96*60", 90, 1)] // never a value for 20 s from the first row
    [InlineData(".*10 96*60", 90, 0)]
    [InlineData("96*60 88*3 .*30", 90, 1)]
    [InlineData(".*60", 90, 1)]
    public void A_loss_signals_at_once_with_a_run_open_and_after_its_delay_otherwise(string series, int limit, int signals) =>
        Assert.Equal(signals, LostTime.Of(Source(series), ConditioningSettings.Default).TechnicalSignals(Percent.Of(limit), Duration.FromSeconds(10)));

    private static MustCatchEvent Certain(string span)
    {
        var ends = span.Split('-').Select(decimal.Parse).Select(SampleTime.FromSeconds).ToArray();
        return new MustCatchEvent(ends[0], ends[1], Percent.Of(84), [new(ends[0], ends[1], Duration.FromSeconds(60), "≤ 85 % for ≥ 60 s")]);
    }

    private static ConditionedSource Source(string series) => ConditionedSource.Even(
        series.Split(' ').SelectMany(part =>
        {
            string[] pieces = part.Split('*');
            decimal? value = pieces[0] == "." ? null : decimal.Parse(pieces[0]);
            return Enumerable.Repeat(value, pieces.Length > 1 ? int.Parse(pieces[1]) : 1);
        }), Duration.FromSeconds(1));

    private static ConditionedSource Flagged(decimal?[] values, int from, int to)
    {
        var source = ConditionedSource.Even(values, Duration.FromSeconds(1));
        var valid = ValueColumn.Of(Enumerable.Range(0, values.Length).Select(i => (decimal?)(i >= from && i < to ? 0 : 1)));
        return source with { SourceValid = new Channel("valid", ChannelKind.SourceValid, "1", source.Channel.Times, valid) };
    }
}
