using Stillwatch.Conditioning;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Tests.Proposals;

/// <summary>Invented nights written second by second, for wards that tempt the search.</summary>
internal sealed class InventedNight
{
    public static readonly MustCatchDefinition Definition = MustCatchDefinitions.For(PatientCategory.Adult);

    private readonly List<decimal?> values = [];
    private readonly List<decimal?> valid = [];

    public InventedNight Rest(int seconds, decimal value = 96) => Add(seconds, value);

    /// <summary>Falls and comes back by 5 points a second, so that no jump is doubted; the floor lasts as long as said.</summary>
    public InventedNight Fall(decimal floor, int seconds)
    {
        for (decimal v = 91; v > floor; v -= 5) Add(1, v);
        Add(seconds, floor);
        for (decimal v = floor + 5; v < 96; v += 5) Add(1, v);
        return this;
    }

    public InventedNight NoNumbers(int seconds)
    {
        for (int i = 0; i < seconds; i++)
        {
            values.Add(null);
            valid.Add(1);
        }

        return this;
    }

    /// <summary>Numbers that the source itself calls not valid.</summary>
    public InventedNight Artefact(int seconds, decimal value)
    {
        for (int i = 0; i < seconds; i++)
        {
            values.Add(value);
            valid.Add(0);
        }

        return this;
    }

    public Recording Build(string name = "night", RecordingStart? start = null)
    {
        var times = TimeAxis.Even(default, Duration.FromSeconds(1), values.Count);
        return new Recording(name, start ?? new RecordingStart.Unknown(),
            [
                new Channel("SpO2", ChannelKind.SpO2, "%", times, ValueColumn.Of(values)),
                new Channel("valid", ChannelKind.SourceValid, "1", times, ValueColumn.Of(valid)),
            ],
            new SourceAveraging(Duration.FromSeconds(3)), []);
    }

    public TuningRecording Tuning(string name = "night", IReadOnlyList<ReviewMark>? marks = null, OxygenStatus oxygen = OxygenStatus.OnAir) =>
        TuningRecording.Of(Build(name), oxygen, Definition, marks ?? [], ConditioningSettings.Default)!;

    /// <summary>One patient of adult category with one night.</summary>
    public PatientRecordings Patient(string name) => new(name, PatientCategory.Adult, [Tuning($"{name}-night")]);

    private InventedNight Add(int count, decimal value)
    {
        for (int i = 0; i < count; i++)
        {
            values.Add(value);
            valid.Add(1);
        }

        return this;
    }
}
