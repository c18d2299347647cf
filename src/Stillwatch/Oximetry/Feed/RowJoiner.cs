namespace Stillwatch.Oximetry.Feed;

/// <summary>
/// Takes rows that come much closer together than their neighbours for one, at their mean time and mean values: between two times that are
/// almost alike, noise would become a slope.
/// </summary>
/// <param name="withinSeconds">How soon after the first of them.</param>
internal sealed class RowJoiner(double withinSeconds)
{
    private double firstSeconds, secondsSum, pulseSum, redSum;
    private int rows, pulses, reds;

    /// <summary>Rows that were taken together with the one before.</summary>
    public long Joined { get; private set; }

    /// <summary>Adds a row; true where the one before is complete.</summary>
    public bool Add(double seconds, double pulse, double red, out JoinedRow complete)
    {
        bool joins = rows > 0 && seconds - firstSeconds < withinSeconds;
        bool any = End(out complete, keep: joins);
        if (joins) Joined++;
        else firstSeconds = seconds;
        secondsSum += seconds;
        rows++;
        if (double.IsFinite(pulse)) (pulseSum, pulses) = (pulseSum + pulse, pulses + 1);
        if (double.IsFinite(red)) (redSum, reds) = (redSum + red, reds + 1);
        return any;
    }

    /// <summary>The last row, if there is one.</summary>
    public bool End(out JoinedRow complete) => End(out complete, keep: false);

    private bool End(out JoinedRow complete, bool keep)
    {
        complete = default;
        if (rows == 0 || keep) return false;
        complete = new JoinedRow(secondsSum / rows, pulses > 0 ? pulseSum / pulses : double.NaN, reds > 0 ? redSum / reds : double.NaN);
        (secondsSum, pulseSum, redSum, rows, pulses, reds) = (0, 0, 0, 0, 0, 0);
        return true;
    }
}

/// <summary>One row, or several that count as one.</summary>
internal readonly record struct JoinedRow(double Seconds, double Pulse, double Red);
