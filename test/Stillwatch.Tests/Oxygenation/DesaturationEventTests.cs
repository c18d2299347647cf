using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.Tests.Oxygenation;

/// <summary>The definition of <see cref="DesaturationFinder"/> case by case: rows once a second, no averaging, no rounding, gap tolerance 5 s.</summary>
public sealed class DesaturationEventTests
{
    internal static readonly ConditioningSettings Unrounded = ConditioningSettings.Default with { Rounding = Rounding.None };

    // id | what it shows | series | events: start-end nadir/depth [3 or 3+4 % rule] how it ended
    private const string Table =
        """
        depth-1 | a fall of exactly 3 for exactly 10 s counts | 96*300 93*10 96*60 | 299-310 93/3 [3] Recovered
        depth-2 | nine seconds do not | 96*300 93*9 96*60 | none
        depth-3 | a fall of 2.9 does not | 96*300 93.1*60 96*60 | none
        depth-4 | a fall of 4 counts for both rules | 96*300 92*10 96*60 | 299-310 92/4 [3+4] Recovered
        depth-5 | deep enough for 4 %, but long enough only at half of 3 % | 96*300 94.4*8 92*3 96*60 | 299-311 92/4 [3] Recovered
        noise-1 | a spike of one second in a shallow trough is no event | 98*300 97*10 94 97*10 98*60 | none
        noise-2 | a pointed dip is measured at half its depth | 96*300 96>92*10 92>96*10 96*60 | 300-320 92/4 [3+4] Recovered
        noise-3 | one stray sample at the old level does not cut an event in two | 96*300 87*20 96 87*20 96*60 | 299-341 87/9 [3+4] Recovered
        noise-4 | flicker about the level before the fall | (96 97)*150 90*20 (96 97)*30 | 299-321 90/6.5 [3+4] Recovered
        part-1 | a rise by less than two thirds is inside the event | 96*300 87*20 92*10 87*20 96*60 | 299-350 87/9 [3+4] Recovered
        part-2 | a rise by two thirds ends it; the next fall is measured from its own 120 s | 96*300 87*20 93*20 87*20 96*60 | 299-320 87/9 [3+4] Recovered; 339-360 87/7 [3+4] Recovered
        part-3 | recovery in steps ends at the top step | 96*300 88*20 94*5 95*5 96*60 | 299-330 88/8 [3+4] Recovered
        part-4 | a step that stands for 10 s is the top | 96*300 88*20 94*10 96*60 | 299-320 88/8 [3+4] Recovered
        plateau-1 | a long low plateau is one event | 96*300 88*600 96*60 | 299-900 88/8 [3+4] Recovered
        plateau-2 | settled lower: the event lasts until the recording ends | 96*300 92*1000 | 299-1300 92/4 [3+4] RecordingEnd
        plateau-3 | settled lower, then a new fall: two events | 96*300 92*200 88*20 92*100 | 299-499 92/4 [3+4] NextFall; 499-520 88/4 [3+4] Recovered
        plateau-4 | a fall in two steps is one event | 96*300 92*30 88*30 96*60 | 299-360 88/8 [3+4] Recovered
        drift-1 | a drift of 6 in ten minutes is no event | 96*300 96>90*600 90*300 | none
        drift-2 | a steep fall out of a drift is one, measured from the mean before it | 96*300 96>93*900 88*20 93*200 | 1199-1220 88/5.202 [3+4] Recovered
        drift-3 | 3 in a minute is a fall | 96*300 96>90*120 90*20 96*100 | 300-440 90/6 [3+4] Recovered
        start-1 | 59 s of history are too few | 96*59 87*20 96*60 | none
        start-2 | 60 s are enough | 96*60 87*20 96*60 | 59-80 87/9 [3+4] Recovered
        start-3 | a recording that starts low has no fall | 80*30 96*300 | none
        gap-1 | back within a minute and still low: one event, the lost time is no part of its length at depth | 96*300 88*5 .*20 88*5 96*60 | 299-330 88/8 [3+4] Recovered
        gap-2 | as gap-1, but seen low for 9 s in all | 96*300 88 .*20 88*2 96*60 | none
        gap-3 | back recovered: it ended at the loss | 96*300 88*10 .*20 96*60 | 299-315 88/8 [3+4] Lost
        gap-4 | gone for more than a minute: it ended at the loss, and what comes back has no baseline | 96*300 88*10 .*70 88*20 96*60 | 299-315 88/8 [3+4] Lost
        gap-5 | a fall that nobody saw begins at the return | 96*300 .*20 86*20 96*60 | 320-340 86/10 [3+4] Recovered
        gap-6 | lost and never back | 96*300 88*10 .*70 | 299-315 88/8 [3+4] Lost
        gap-7 | a fall begun before a long loss is forgotten | 96*300 94*20 .*70 90*60 96*60 | none
        gap-8 | a loss ends the rise | 96*300 88*20 94 .*7 95*3 96*60 | 299-320 88/8 [3+4] Recovered
        onset-1 | back at the old level, the fall is forgotten: the next begins anew | 96*300 94*5 96*30 88*20 96*60 | 334-355 88/7.917 [3+4] Recovered
        onset-2 | back within half a point of it, too | 96*300 94*5 95.8*30 88*20 96*60 | 334-355 88/7.867 [3+4] Recovered
        onset-3 | a shallow step of a minute, then deeper: one fall from the old level | 96*300 95*60 90*20 96*60 | 299-380 90/6 [3+4] Recovered
        end-1 | the end of the recording closes an open event | 96*300 88*15 | 299-315 88/8 [3+4] RecordingEnd
        train-1 | three dips are three events; the mean sinks with them | 96*300 (88*20 96*40)*3 | 299-320 88/8 [3+4] Recovered; 359-380 88/6.667 [3+4] Recovered; 419-440 88/5.333 [3+4] Recovered
        """;

    public static TheoryData<string, string, string, string> Cases
    {
        get
        {
            var cases = new TheoryData<string, string, string, string>();
            foreach (string line in Table.Split('\n', StringSplitOptions.RemoveEmptyEntries))
            {
                string[] cells = line.Split('|', StringSplitOptions.TrimEntries);
                cases.Add(cells[0], cells[1], cells[2], cells[3]);
            }

            return cases;
        }
    }

    [Theory]
    [MemberData(nameof(Cases))]
    public void Events_are_found_as_the_table_says(string id, string shows, string series, string expected)
    {
        string found = Describe(Find(SeriesText.Source(series)));
        Assert.True(expected == found, $"{id} ({shows}): expected {expected}, found {found}");
    }

    [Fact]
    public void Recovery_is_from_the_nadir_to_the_end_and_unknown_after_a_loss()
    {
        Assert.Equal(Duration.FromSeconds(15), Assert.Single(Find(SeriesText.Source("96*300 90*5 87*5 90*10 96*60"))).Recovery);
        Assert.Null(Assert.Single(Find(SeriesText.Source("96*300 88*10 .*20 96*60"))).Recovery);
        Assert.Null(Assert.Single(Find(SeriesText.Source("96*300 88*10"))).Recovery);
    }

    [Fact]
    public void The_area_lies_between_the_baseline_and_the_value_without_lost_time()
    {
        // 8 below for 5 s, held for 5 s more, then 5 s after the loss.
        Assert.Equal(8 * 15m, Assert.Single(Find(SeriesText.Source("96*300 88*5 .*20 88*5 96*60"))).Area.Value);
        // Before a next fall the last second belongs to that event: 4 below for 199 s.
        Assert.Equal(4 * 199m, Find(SeriesText.Source("96*300 92*200 88*20 92*100"))[0].Area.Value);
    }

    internal static List<DesaturationEvent> Find(ConditionedSource source, ConditioningSettings? conditioning = null) =>
        DesaturationFinder.Find(ConditionedSeries.Of(source, conditioning ?? Unrounded), source.Channel.Times.Period);

    internal static string Describe(IReadOnlyList<DesaturationEvent> events) => events.Count == 0 ? "none" : string.Join("; ", events.Select(e =>
        $"{e.Start.Milliseconds / 1000m:0.###}-{e.End.Milliseconds / 1000m:0.###} {e.Nadir.Value:0.###}/{e.Depth.Value:0.###} [{(e.IsFallOf4 ? "3+4" : "3")}] {e.Ending}"));
}
