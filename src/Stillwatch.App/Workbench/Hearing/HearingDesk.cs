using Stillwatch.Alarms;
using Stillwatch.Alarms.Sound;
using Stillwatch.App.Jobs;
using Stillwatch.App.Workbench.Evidence;
using Stillwatch.App.Workbench.Library;
using Stillwatch.Replay;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Workbench.Hearing;

/// <summary>A night that can be listened to: one recording, or all of a group that began in one evening, on one clock.</summary>
/// <param name="Words">Which.</param>
/// <param name="Recordings">With what each recording's own time must be moved by to stand on the night's clock.</param>
/// <param name="Start">The clock at the night's time zero.</param>
public sealed record Night(string Words, IReadOnlyList<(TunedRecording Recording, Duration Shift)> Recordings, RecordingStart Start)
{
    public TimeSlice Span => new(
        Recordings.Min(r => r.Recording.Evidence.SpO2.Channel.Times.First + r.Shift),
        Recordings.Max(r => r.Recording.Evidence.SpO2.Channel.Times.End + r.Shift));

    /// <summary>Every recording, and before them every evening on which at least two patients were recorded. An evening lasts from noon to noon.</summary>
    public static IReadOnlyList<Night> Of(IReadOnlyList<TunedRecording> recordings)
    {
        var evenings = recordings
            .Where(r => r.Loaded.Recording.Start is RecordingStart.Local)
            .GroupBy(r => DateOnly.FromDateTime(((RecordingStart.Local)r.Loaded.Recording.Start).DateTime.AddHours(-12)))
            .Where(e => e.Select(r => r.Loaded.Patient).Distinct().Count() > 1)
            .OrderBy(e => e.Key)
            .Select(e =>
            {
                var first = e.Min(r => ((RecordingStart.Local)r.Loaded.Recording.Start).DateTime);
                return new Night(
                    $"night of {e.Key:yyyy-MM-dd}: {e.Select(r => r.Loaded.Patient).Distinct().Count()} patients together",
                    [.. e.Select(r => (r, new Duration((long)(((RecordingStart.Local)r.Loaded.Recording.Start).DateTime - first).TotalMilliseconds)))],
                    new RecordingStart.Local(first));
            });
        return [.. evenings, .. recordings.Select(r => new Night($"{r.Loaded.Patient}: {r.Loaded.File.Name}", [(r, Duration.Zero)], r.Loaded.Recording.Start))];
    }
}

/// <summary>What a night sounds like under given settings.</summary>
/// <param name="Score">The bursts.</param>
/// <param name="Signals">The signals they stand for, on the night's clock, by start.</param>
public sealed record HeardNight(NightScore Score, IReadOnlyList<HeardSignal> Signals)
{
    public int Of(AlarmPriority priority) => Signals.Count(s => s.Priority == priority);

    /// <summary>The signals of SpO2 low under some settings, by the engine.</summary>
    public static HeardNight Of(Night night, CandidateSettings settings)
    {
        var conditioning = GroupLoader.Request.Conditioning with { Averaging = settings.Averaging };
        var found = new IReadOnlyList<HeardSignal>[night.Recordings.Count];
        Parallel.For(0, found.Length, i =>
        {
            var (recording, shift) = night.Recordings[i];
            found[i] = [.. Replayer.RunLow(recording.Evidence.SpO2, settings.SpO2Low, settings.Backstop, conditioning).Select(s => new HeardSignal(new TimeSlice(s.Start + shift, s.End + shift), s.HighestPriority))];
        });
        List<HeardSignal> signals = [.. found.SelectMany(f => f).OrderBy(s => s.Span.Start)];
        return new HeardNight(NightScore.Of(signals, night.Span, NightScore.Minute), signals);
    }
}
