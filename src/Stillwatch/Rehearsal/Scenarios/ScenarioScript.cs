using Stillwatch.Rehearsal.Patients;
using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Time;

namespace Stillwatch.Rehearsal.Scenarios;

/// <summary>One thing that a script lets change in time.</summary>
internal enum Track
{
    Rate,
    Depth,
    Effort,
    Oxygen,
    Shunt,
    DeadSpace,
    OxygenUse,
    PulseOffset,
    Perfusion,
    Motion,
    MotionHz,
    Flicker,
    FlickerHz,
    Ambient,
    Slip,
}

/// <summary>
/// What happens in a scenario, written down second by second: every track begins at its usual value and changes where the scenario
/// says so. What lies past the end is left out.
/// </summary>
internal sealed class ScenarioScript
{
    private readonly double[][] tracks;
    private readonly bool[] off;
    private readonly bool[] feedLost;
    private readonly List<TruthEpisode> episodes = [];

    public ScenarioScript(PatientParameters patient, int seconds, SeededRandom random)
    {
        Patient = patient;
        Seconds = seconds;
        Random = random;
        tracks = new double[Enum.GetValues<Track>().Length][];
        for (int i = 0; i < tracks.Length; i++) tracks[i] = new double[seconds];
        off = new bool[seconds];
        feedLost = new bool[seconds];
        var usual = PatientDrive.Usual(patient);
        Set(Track.Rate, 0, usual.BreathsPerMinute);
        Set(Track.Depth, 0, usual.BreathDepth);
        Set(Track.Effort, 0, usual.BreathEffort);
        Set(Track.Oxygen, 0, usual.InhaledOxygenFraction);
        Set(Track.Shunt, 0, usual.ShuntFraction);
        Set(Track.DeadSpace, 0, usual.DeadSpaceFactor);
        Set(Track.OxygenUse, 0, usual.OxygenUseFactor);
        Set(Track.Perfusion, 0, usual.PerfusionFactor);
    }

    public PatientParameters Patient { get; }

    public int Seconds { get; }

    /// <summary>The scenario's own chance: which pause is how long, which movement how strong.</summary>
    public SeededRandom Random { get; }

    public IReadOnlyList<TruthEpisode> Episodes => episodes;

    /// <summary>From a second on to the end.</summary>
    public void Set(Track track, int from, double value)
    {
        if (from < Seconds) Array.Fill(tracks[(int)track], value, from, Seconds - from);
    }

    /// <summary>For a stretch only; what was there before comes back.</summary>
    public void During(Track track, int from, int length, double value)
    {
        for (int t = from; t < Math.Min(Seconds, from + length); t++) tracks[(int)track][t] = value;
    }

    /// <summary>In a straight line to a value, which then stays.</summary>
    public void Ramp(Track track, int from, int length, double value)
    {
        var line = tracks[(int)track];
        if (from >= Seconds) return;
        double start = line[from];
        for (int t = from; t < Seconds; t++) line[t] = start + (value - start) * Math.Min(1.0, (t - from) / (double)length);
    }

    /// <summary>Rate and depth of breathing wander by a share of themselves (memory of 45 s), as in everybody.</summary>
    public void BreatheUnevenly(double share)
    {
        double keep = Math.Exp(-1.0 / 45), draw = Math.Sqrt(1 - keep * keep), rate = 0, depth = 0;
        for (int t = 0; t < Seconds; t++)
        {
            rate = keep * rate + draw * Random.Normal();
            depth = keep * depth + draw * Random.Normal();
            tracks[(int)Track.Rate][t] *= Math.Exp(share * rate);
            tracks[(int)Track.Depth][t] *= Math.Exp(share * depth);
            tracks[(int)Track.Effort][t] *= Math.Exp(share * depth);
        }
    }

    /// <summary>No air for a while; then some deeper breaths.</summary>
    /// <param name="at">Its first second.</param>
    /// <param name="length">Seconds without air.</param>
    /// <param name="effortAtEnd">0: nobody tries (central); above 1: effort that grows against a shut way (obstructive).</param>
    /// <param name="catchingUp">Depth of the breaths afterwards.</param>
    /// <param name="catchingUpSeconds">How long they last.</param>
    public void Pause(int at, int length, double effortAtEnd, double catchingUp = 1.5, int catchingUpSeconds = 15)
    {
        for (int t = at; t < Math.Min(Seconds, at + length); t++)
        {
            tracks[(int)Track.Depth][t] = 0;
            tracks[(int)Track.Effort][t] = effortAtEnd > 0 ? 1 + (effortAtEnd - 1) * (t - at) / length : 0;
            if (effortAtEnd <= 0) tracks[(int)Track.Rate][t] = 0;
        }

        During(Track.Depth, at + length, catchingUpSeconds, catchingUp);
        During(Track.Effort, at + length, catchingUpSeconds, catchingUp);
        Note(TruthKind.Apnoea, at, length);
    }

    /// <summary>Movement that swells and fades, uneven from second to second.</summary>
    /// <param name="at">Its first second.</param>
    /// <param name="length">Seconds.</param>
    /// <param name="strength">As in <see cref="SensorMoment.Motion"/>, in the middle of it.</param>
    /// <param name="hz">0: without rhythm.</param>
    /// <param name="swellSeconds">To full strength, and from it; 1: at once.</param>
    public void Move(int at, int length, double strength, double hz = 0, int swellSeconds = 4)
    {
        for (int t = at; t < Math.Min(Seconds, at + length); t++)
        {
            double swell = Math.Min(1, Math.Min(t - at + 1, at + length - t) / (double)swellSeconds);
            tracks[(int)Track.Motion][t] = strength * swell * Random.Between(0.75, 1.25);
            tracks[(int)Track.MotionHz][t] = hz;
        }

        Note(TruthKind.Motion, at, length);
    }

    public void TakeOff(int at, int length)
    {
        for (int t = at; t < Math.Min(Seconds, at + length); t++) off[t] = true;
        Note(TruthKind.SensorOff, at, length);
    }

    public void LoseFeed(int at, int length)
    {
        for (int t = at; t < Math.Min(Seconds, at + length); t++) feedLost[t] = true;
        Note(TruthKind.FeedLost, at, length);
    }

    /// <summary>Writes down a true episode.</summary>
    public void Note(TruthKind kind, int at, int length)
    {
        int end = Math.Min(Seconds, at + length);
        if (at < end) episodes.Add(new TruthEpisode(kind, Slice(at, end)));
    }

    public static TimeSlice Slice(int start, int end) => new(new SampleTime(start * 1000L), new SampleTime(end * 1000L));

    public PatientDrive DriveAt(int second) => new(
        At(Track.Rate, second), At(Track.Depth, second), At(Track.Effort, second), At(Track.Oxygen, second), At(Track.Shunt, second),
        At(Track.DeadSpace, second), At(Track.OxygenUse, second), At(Track.PulseOffset, second), At(Track.Perfusion, second));

    public SensorMoment SensorAt(int second) => new(
        At(Track.Motion, second), At(Track.MotionHz, second), At(Track.Flicker, second), At(Track.FlickerHz, second),
        At(Track.Ambient, second), At(Track.Slip, second), off[second], feedLost[second]);

    private double At(Track track, int second) => tracks[(int)track][second];
}
