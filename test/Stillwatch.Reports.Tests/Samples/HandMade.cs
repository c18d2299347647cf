using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Oxygenation;
using Stillwatch.Quantities;
using Stillwatch.Reports.Model;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Tests.Samples;

/// <summary>Small invented inputs made by hand, where the invented ward would hide what a test is about.</summary>
internal static class HandMade
{
    public static ConditionedSeries Series(IEnumerable<decimal?> values, decimal periodSeconds = 1) =>
        ConditionedSeries.Of(ConditionedSource.Even(values, Duration.FromSeconds(periodSeconds)), ConditioningSettings.Default);

    /// <summary>A section with the review that the core makes of these values; the settings are the adult presets.</summary>
    public static RecordingSection Section(IReadOnlyList<decimal?> values, string name = "by hand", RecordingStart? start = null, decimal periodSeconds = 1)
    {
        var source = ConditionedSource.Even(values, Duration.FromSeconds(periodSeconds));
        var recording = new Recording(name, start ?? new RecordingStart.Unknown(), [source.Channel], SourceAveraging.Unknown, []);
        return InventedReports.Section(recording, null, null) with { Issues = [] };
    }

    public static ReportModel Report(params RecordingSection[] sections) => new()
    {
        Title = "By hand",
        Recordings = sections,
        Provenance = new Provenance { Software = "Stillwatch 0.1.0", Inputs = [new InputFile("by-hand.csv", new string('a', 64), 12)] },
    };

    public static CandidateSettings Settings(decimal limit, decimal delaySeconds, decimal area = 0) => new(
        new LimitSettings<Percent>(Percent.Of(limit), Duration.FromSeconds(delaySeconds), Area.Of(area), Percent.Of(0)), null, Duration.Zero);

    public static CandidateEvidence Evidence(CandidateSettings settings, double perDay, int events = 12, int missed = 0, int late = 0) => new()
    {
        Settings = settings,
        SignalsPerDay = new Estimate(perDay, perDay * 0.8, perDay * 1.3),
        SignalMinutesPerDay = 31.5,
        MustCatchEvents = events,
        Missed = missed,
        Late = late,
        MissedUpperBoundEvents = 0.2209,
        MissedUpperBoundPatients = 0.4507,
        WorstTimeToSignal = Duration.FromSeconds(24),
        MedianTimeToSignal = Duration.FromSeconds(11),
    };

    public static Proposal Proposal(CandidateEvidence? chosen, CandidateEvidence? present, params string[] refused) => new()
    {
        Chosen = refused.Length == 0 ? chosen : null,
        Best = chosen,
        Present = present,
        RefusedBecause = refused,
        Caveats = ["The evidence is from one ward."],
        Front =
        [
            new FrontPoint(Settings(86, 20), 8, Duration.FromSeconds(30), true),
            new FrontPoint(Settings(88, 15), 11, Duration.FromSeconds(24), true),
            new FrontPoint(Settings(92, 0), 60, Duration.Zero, false),
        ],
    };

    /// <summary>Five limits × four delays over one day: load falls with delay, two cells miss, one is late, the highest limit is null.</summary>
    public static MapPicture Map()
    {
        var signals = new long[5, 4];
        var active = new long[5, 4];
        var missed = new int[5, 4];
        var late = new int[5, 4];
        for (int limit = 0; limit < 5; limit++)
        {
            for (int delay = 0; delay < 4; delay++)
            {
                bool isNull = limit == 4;
                signals[limit, delay] = isNull ? -1 : (limit + 1) * 20 / (delay + 1);
                active[limit, delay] = isNull ? -1 : signals[limit, delay] * 30_000;
                missed[limit, delay] = isNull ? -1 : limit == 0 && delay >= 2 ? 1 : 0;
                late[limit, delay] = isNull ? -1 : limit == 1 && delay == 3 ? 2 : 0;
            }
        }

        return new MapPicture
        {
            Limits = [.. new[] { 84, 86, 88, 90, 92 }.Select(l => Percent.Of(l))],
            Threshold = MapThreshold.Delay,
            Thresholds = [0, 10, 20, 30],
            Plane = new MapPlane(signals, active, missed, late, null),
            Valid = Duration.FromHours(24),
            MustCatchEvents = 3,
        };
    }

    public static SettingsSection SettingsSection(Proposal? proposal, MapPicture? map = null) => new()
    {
        Group = "adult, source averaging 8 s",
        Category = PatientCategory.Adult,
        Patients = 4,
        Recordings = 7,
        Valid = Duration.FromHours(50),
        Connected = Duration.FromHours(53),
        MapByDelay = map ?? Map(),
        MustCatch = new MustCatchDefinition("by hand", [new MustCatchLine(Percent.Of(85), true, Duration.FromSeconds(60))], "unit policy, no source"),
        Proposal = proposal,
    };

    /// <summary>A night with a fall to 70 %, a dip and a gap.</summary>
    public static decimal?[] Night(int seconds = 3600)
    {
        var values = new decimal?[seconds];
        for (int i = 0; i < seconds; i++)
        {
            values[i] = 96 + i / 40 % 2;
            if (i is >= 900 and < 1020) values[i] = Math.Max(70, 96 - (i - 900));
            if (i is >= 1800 and < 1830) values[i] = 91;
            if (i is >= 2400 and < 2520) values[i] = null;
        }

        return values;
    }
}
