using Stillwatch.Quantities;
using Stillwatch.Rehearsal;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;
using Xunit;
using static Stillwatch.Tests.Proposals.HandMade;

namespace Stillwatch.Tests.Proposals;

/// <summary>Settings that somebody asked about must show the numbers that a proposal would show of them.</summary>
public class SideBySideTests
{
    private static readonly Duration[] KeptReady = [Duration.Zero, Duration.FromSeconds(8)];

    private static readonly IReadOnlyList<PatientRecordings> Ward =
    [
        .. DemoWard.Compose(nightSeconds: 3600).Patients.Take(4).Select(p => new PatientRecordings(
            p.Key, PatientCategory.Adult,
            [.. p.Nights.Select(n => TuningRecording.Of(n.Recording, OxygenStatus.OnAir, MustCatchDefinitions.For(PatientCategory.Adult), [], ProposalRules.Default.Conditioning)!)])),
    ];

    [Theory]
    [InlineData(90, 5, 0, 0)]
    [InlineData(88, 0, 60, 8)]
    [InlineData(91, 10, 30, 0)] // delay and area together: no map has a cell for it
    [InlineData(89, 15, 0, 4)] // an averaging that is not kept ready
    public void Evidence_on_settings_asked_about_is_that_of_the_search(int limit, int delay, int area, int averaging)
    {
        var asked = Settings(limit, delay, areaPercentSeconds: area) with { Averaging = Duration.FromSeconds(averaging) };
        var rules = ProposalRules.Default with { Resamples = 50 };
        var answer = Assert.Single(ProposalSearch.Propose(Ward, rules, asked));
        var grid = CandidateGrid.Of([Settings(70, 0), asked], SearchBounds.Default);
        var found = SideBySide.Of(grid, Under(grid, rules), rules);
        Assert.Null(found[0]); // a limit below the backstop cannot be
        Assert.Equal(answer.Proposal.Present, found[1]);
    }

    [Fact]
    public void Events_that_change_are_those_whose_verdict_or_time_differs_and_the_worse_come_first()
    {
        var grid = CandidateGrid.Of([Settings(90, 0), Settings(90, 20)], SearchBounds.Default);
        EventEvidence Signalled(int onset, int? before, int? after) => Event(grid, s => Delay(s) == 0 ? before : after, onsetSeconds: onset);
        var patients = new[]
        {
            Patient(grid, "P1", events: [Signalled(100, 5, 5), Signalled(200, 5, 25), Signalled(300, 70, 10)]),
            Patient(grid, "P2", events: [Signalled(400, 5, null), Signalled(500, 5, 70), Signalled(600, null, null)]),
        };
        Assert.Equal(
            """
            P2 at 400 s: InTime after 5 s -> Missed
            P2 at 500 s: InTime after 5 s -> Late after 70 s
            P1 at 200 s: InTime after 5 s -> InTime after 25 s
            P1 at 300 s: Late after 70 s -> InTime after 10 s
            """.ReplaceLineEndings("\n"),
            string.Join('\n', SideBySide.Changes(patients, 0, patients, 1).Select(c =>
                $"{c.Patient} at {c.Onset.Seconds:0} s: {Words(c.Before, c.BeforeTime)} -> {Words(c.After, c.AfterTime)}")));
        Assert.Empty(SideBySide.Changes(patients, 1, patients, 1));
    }

    [Fact]
    public void Events_of_other_patients_are_not_compared()
    {
        var grid = CandidateGrid.Of([Settings(90, 0)], SearchBounds.Default);
        Assert.Throws<ArgumentException>(() => SideBySide.Changes([Patient(grid, "P1")], 0, [Patient(grid, "P2")], 0));
    }

    private static List<PatientEvidence> Under(CandidateGrid grid, ProposalRules rules) =>
        [.. Ward.Select(p => new PatientNights(p.Patient, p.Recordings, rules, KeptReady).Under(grid))];

    private static string Words(CatchVerdict verdict, Duration? time) => time is { } t ? $"{verdict} after {t.Seconds:0} s" : $"{verdict}";
}
