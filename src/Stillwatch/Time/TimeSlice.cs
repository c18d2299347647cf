namespace Stillwatch.Time;

/// <summary>A stretch of a recording's time line, [Start, End).</summary>
public readonly record struct TimeSlice(SampleTime Start, SampleTime End)
{
    public Duration Length => End - Start;

    public bool Contains(SampleTime time) => Start <= time && time < End;

    public bool Overlaps(TimeSlice other) => Start < other.End && other.Start < End;
}
