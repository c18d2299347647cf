using Stillwatch.Alarms;
using Stillwatch.Alarms.Sound;
using Stillwatch.App.Tests.Running;
using Stillwatch.App.Workbench.Hearing;
using Stillwatch.Time;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>What is heard is what the engine signals, and every evening is offered together.</summary>
public class HearingTests
{
    [Fact]
    public async Task Evenings_of_several_patients_come_first_and_then_each_recording()
    {
        await using var library = await SmallLibrary.OfAsync(3);
        var nights = Night.Of((await library.EvidenceAsync()).Groups[0].Group.Recordings);
        Assert.Equal(["night of 2026-03-02: 3 patients together", "night of 2026-03-03: 3 patients together"], nights.Take(2).Select(n => n.Words));
        Assert.Equal(2 + 6, nights.Count);
        // The second patient's night begins 97 s after the first's, the third's 194 s: on one clock they stand that far apart.
        Assert.Equal([0, 97, 194], nights[0].Recordings.Select(r => r.Shift.Seconds).Order());
        Assert.Equal(3600 + 194, nights[0].Span.Length.Seconds);
    }

    [Fact]
    public async Task As_many_signals_are_heard_as_the_evidence_counts()
    {
        await using var library = await SmallLibrary.OfAsync(2);
        var group = (await library.EvidenceAsync()).Groups[0];
        var settings = group.Present!.Low!;
        long heard = Night.Of(group.Group.Recordings).Where(n => n.Recordings.Count == 1).Sum(n => (long)HeardNight.Of(n, settings).Score.Signals);
        Assert.Equal(group.Desk.Ask(settings).Evidence!.Signals, heard);
        Assert.True(heard > 0);
    }

    [Fact]
    public void A_score_is_kept_for_as_long_as_not_too_many_newer_ones_came()
    {
        var shelf = new ScoreShelf();
        var score = NightScore.Of([], new TimeSlice(default, SampleTime.FromSeconds(10)), NightScore.Minute);
        string first = shelf.Put(score);
        Assert.Same(score, shelf.Find(first));
        for (int i = 0; i < 32; i++) shelf.Put(score);
        Assert.Null(shelf.Find(first));
        Assert.Null(shelf.Find("never put there"));
    }

    [Fact]
    public void The_browser_is_given_pulses_as_fast_as_the_sound_file_has_them()
    {
        var score = NightScore.Of([new HeardSignal(new TimeSlice(SampleTime.FromSeconds(240), SampleTime.FromSeconds(250)), AlarmPriority.Medium)], new TimeSlice(default, SampleTime.FromSeconds(480)), NightScore.Minute);
        var json = ScoreJson.Of(score);
        Assert.Equal((60.0, 30.0, "medium"), (json.GetProperty("length").GetDouble(), json.GetProperty("bursts")[0].GetProperty("at").GetDouble(), json.GetProperty("bursts")[0].GetProperty("priority").GetString()));
        var pulses = json.GetProperty("patterns").GetProperty("medium").GetProperty("pulses");
        Assert.Equal(3, pulses.GetArrayLength());
        Assert.Equal((0.09, 0.045), (pulses[1].GetProperty("at").GetDouble(), pulses[1].GetProperty("length").GetDouble()));
    }
}
