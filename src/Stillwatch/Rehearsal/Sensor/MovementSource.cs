namespace Stillwatch.Rehearsal.Sensor;

/// <summary>
/// Movement as it shows in light: standard deviation 1, mean 0. Irregular: unrest of all frequencies up to a few a second, and jerks that throw
/// the level and let it come back. Rhythmic: a wave with an overtone whose frequency wanders, and some unrest.
/// </summary>
internal sealed class MovementSource
{
    private const double UnrestHz = 2;
    private const double JerksPerSecond = 0.4;
    private const double JerkSeconds = 0.8;
    private const double RiseSeconds = 0.05;
    private const double UnrestPart = 0.8;
    private const double JerkPart = 0.6; // 0.8² + 0.6² = 1
    private const double RhythmPart = 0.92;
    private const double OvertonePart = 0.35;
    private const double Wander = 0.15; // of the frequency, one standard deviation

    private readonly double step, kept, scale, jerkKept, riseKept, jerkSize;
    private readonly SeededRandom chance;
    private double first, second, otherFirst, otherSecond, jerk, level, turn, untilJerk;

    public MovementSource(int samplesPerSecond, SeededRandom chance)
    {
        this.chance = chance;
        step = 1.0 / samplesPerSecond;
        kept = Math.Exp(-2 * Math.PI * UnrestHz * step);
        // Two equal one-pole means of white noise: variance (1−a)^4 (1+a²)/(1−a²)^3.
        scale = Math.Sqrt(Math.Pow(1 - kept * kept, 3) / (Math.Pow(1 - kept, 4) * (1 + kept * kept)));
        jerkKept = Math.Exp(-step / JerkSeconds);
        riseKept = Math.Exp(-step / RiseSeconds);
        jerkSize = 1 / Math.Sqrt(JerksPerSecond * JerkSeconds / 2); // shot noise of decaying steps
        turn = chance.Unit();
        untilJerk = chance.Wait(1 / JerksPerSecond);
    }

    /// <summary>What both lamps see.</summary>
    public double Common { get; private set; }

    /// <summary>What only one of them sees, the same in kind.</summary>
    public double Other { get; private set; }

    /// <param name="hertz">0: irregular.</param>
    public void Advance(double hertz)
    {
        first = kept * first + (1 - kept) * chance.Normal();
        second = kept * second + (1 - kept) * first;
        otherFirst = kept * otherFirst + (1 - kept) * chance.Normal();
        otherSecond = kept * otherSecond + (1 - kept) * otherFirst;
        Other = scale * otherSecond;
        if (hertz > 0)
        {
            turn += hertz * step * (1 + Wander * Other);
            turn -= Math.Floor(turn);
            double angle = 2 * Math.PI * turn;
            double wave = (Math.Sin(angle) + OvertonePart * Math.Sin(2 * angle + 1)) * Math.Sqrt(2 / (1 + OvertonePart * OvertonePart));
            Common = RhythmPart * wave + Math.Sqrt(1 - RhythmPart * RhythmPart) * scale * second;
            return;
        }

        untilJerk -= step;
        if (untilJerk <= 0)
        {
            jerk += jerkSize * chance.Normal();
            untilJerk = chance.Wait(1 / JerksPerSecond);
        }

        jerk *= jerkKept;
        level = riseKept * level + (1 - riseKept) * jerk;
        Common = UnrestPart * scale * second + JerkPart * level;
    }
}
