using Stillwatch.Alarms;
using Stillwatch.Quantities;
using Stillwatch.Reports.Model;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Tests.Samples;

/// <summary>Pages to hand over, about the invented ward.</summary>
internal static class InventedPages
{
    public static readonly DateTimeOffset Made = new(2026, 3, 3, 7, 5, 0, TimeSpan.FromHours(1));

    private static readonly InventedReports Long = new(8 * 3600);

    public static readonly ReportModel Night = Long.OneNight();

    public static readonly ReportModel Group = Long.AdultGroup();

    public static RecordingPageModel Recording => new()
    {
        Title = "P02, night of 2 March",
        Recording = Night.Recordings[0],
        Marks = [.. Night.Recordings[0].MustCatch.Take(2).Select((m, i) => new ReviewMark("Reviewer One", new TimeSlice(m.Event.Onset, m.Event.End), i == 0 ? MarkVerdict.RealAndSignificant : MarkVerdict.Artefact))],
        Remarks = ["Mask off between 02:10 and 02:40, as written in the notes."],
        IsInvented = true,
        Provenance = Night.Provenance,
    };

    public static DecisionModel Accepted => new()
    {
        Title = "Low limit and delay for adults",
        Scope = "All adults of unit A",
        Decided = Group.Settings[0].Proposal!.Best,
        Evidence = Group.Settings[0],
        Why = "Most signals at night last less than 15 s and end by themselves; nobody acted on them in the audit of February.",
        AcceptedBy = "the monitoring lead",
        AcceptedOn = "3 March 2026",
        Until = "3 June 2026",
        IsInvented = true,
        Provenance = Group.Provenance,
    };

    public static DecisionModel Refused => Accepted with { Title = "No change for P02", Scope = "Patient P02", Decided = null, Evidence = Night.Settings[0], Why = "", AcceptedBy = null, AcceptedOn = null, Until = null, Provenance = Night.Provenance };

    /// <summary>Somebody decided settings far outside the bounds that miss half of the events, instead of what the search looked for.</summary>
    public static DecisionModel Instead
    {
        get
        {
            var best = Group.Settings[0].Proposal!.Best!;
            var decided = best with
            {
                Settings = new CandidateSettings(best.Settings.SpO2Low with { Limit = Percent.Of(78), Delay = Duration.FromSeconds(60) }, new BackstopSettings(Percent.Of(74), Duration.FromSeconds(5)), Duration.Zero),
                MustCatchEvents = 93, Missed = 47, Late = 3, PatientsMissed = 7, MissedAtHalfLength = 80, MissedUpperBoundEvents = 0.6, IsInsideBounds = false,
            };
            return Accepted with
            {
                Decided = decided,
                DecidedName = "Candidate A",
                OfDecided = SettingsJudgement.Of(decided, Group.Settings[0].Proposal!.Present, [], new GuardRails(), SearchBounds.Default),
            };
        }
    }

    public static SettingsCardModel Card => new()
    {
        For = "P02",
        About = "Adult at risk of hypercapnic failure; on 28 % oxygen; prescribed target 88–92 %",
        IsStart = false,
        Lines =
        [
            new CardLine("SpO2 low limit", "86 %", "two points under the prescribed target", "90 %"),
            new CardLine("Delay", "15 s", "unit policy, no source", "10 s"),
            new CardLine("Backstop", "80 %, at once", "unit policy, no source"),
            new CardLine("SpO2 high limit", "94 %", "on oxygen with a target to 92 %: too much is to be noticed too", "off"),
            new CardLine("Pulse rate low · high", "50 · 120 /min", "unit policy, no source"),
            new CardLine("Our averaging", "none", "the monitor averages already"),
        ],
        Averaging = "by the monitor 8 s; ours none",
        DecidedBy = "the charge nurse of the night",
        DecidedOn = "2 March 2026",
        DeviationEnds = "4 March 2026, 08:00, or when oxygen is stopped",
        Remarks = ["Look again when oxygen is changed."],
        IsInvented = true,
        Provenance = new Provenance { Software = "Stillwatch 0.1.0", Inputs = [] },
    };

    public static SettingsCardModel Start => Card with { IsStart = true, DecidedBy = null, DecidedOn = null, DeviationEnds = null };

    public static ShiftSummaryModel OneOfTheShift => new()
    {
        Title = "P02, night shift",
        Period = "Unit A; 2 March 2026 22:00 to 3 March 06:00",
        Patients = [Patient(Night.Recordings[0], "P02")],
        IsInvented = true,
        Provenance = Night.Provenance,
    };

    public static ShiftSummaryModel WardOfTheShift => OneOfTheShift with
    {
        Title = "Unit A, night shift",
        Patients = [.. InventedReports.Ward.Recordings.Take(7).Select((r, i) => Patient(r, $"P{i + 1:00}")), new ShiftPatient { Patient = "P12", About = "adult", Pending = ["Sensor to be fetched from stores."] }],
        Provenance = InventedReports.Ward.Provenance,
    };

    private static ShiftPatient Patient(RecordingSection recording, string name) => new()
    {
        Patient = name,
        About = "adult, target 94–98 %",
        Recording = recording,
        Happened = ["Oxygen raised from 2 to 3 l/min at 01:20 by the doctor on call."],
        Changed = [new ShiftChange("23:40", "delay of the low limit from 10 s to 15 s", "signals without consequence, agreed with the doctor on call", "the night nurse")],
        Watch = ["Longer falls since 03:00."],
        Pending = ["Blood gas at 07:00, asked for and not yet taken."],
    };
}
