namespace Stillwatch.Accuracy.Beats;

/// <summary>Pulses beside heart beats, one to one.</summary>
/// <param name="TransitSeconds">Median time from a heart beat to the next pulse, taken off before matching.</param>
/// <param name="HeartBeats">All that could have a pulse within the recording.</param>
/// <param name="Pulses">All that were found.</param>
internal sealed record BeatMatching(double TransitSeconds, int HeartBeats, int Pulses)
{
    /// <summary>Heart beats with a pulse within the tolerance.</summary>
    public required int MatchedHeartBeats { get; init; }

    /// <summary>Pulses with a heart beat within it; another number only where parts of the recording are looked at, and a pair lies across an edge.</summary>
    public required int MatchedPulses { get; init; }

    public double Sensitivity => (double)MatchedHeartBeats / HeartBeats;

    public double PositivePredictiveValue => (double)MatchedPulses / Pulses;

    /// <param name="heartBeats">Rising, seconds.</param>
    /// <param name="pulses">Rising, seconds.</param>
    /// <param name="toleranceSeconds">Either way, after the transit is taken off.</param>
    /// <param name="fromSeconds">The pulses' recording: heart beats whose pulse would fall outside are not counted.</param>
    /// <param name="toSeconds">Its end.</param>
    public static BeatMatching Of(IReadOnlyList<double> heartBeats, IReadOnlyList<double> pulses, double toleranceSeconds, double fromSeconds, double toSeconds)
    {
        double transit = Transit(heartBeats, pulses);
        var expected = heartBeats.Where(b => b + transit >= fromSeconds && b + transit <= toSeconds).ToList();
        var arrived = pulses.Select(p => p - transit).ToList();
        int pairs = Pairs(expected, arrived, toleranceSeconds).Count;
        return new BeatMatching(transit, expected.Count, arrived.Count) { MatchedHeartBeats = pairs, MatchedPulses = pairs };
    }

    /// <summary>Median of the time from the last heart beat before each pulse; NaN without any.</summary>
    public static double Transit(IReadOnlyList<double> heartBeats, IReadOnlyList<double> pulses)
    {
        var delays = new List<double>();
        int beat = -1;
        foreach (double pulse in pulses)
        {
            while (beat + 1 < heartBeats.Count && heartBeats[beat + 1] <= pulse) beat++;
            if (beat >= 0) delays.Add(pulse - heartBeats[beat]);
        }

        delays.Sort();
        return delays.Count == 0 ? double.NaN : delays[delays.Count / 2];
    }

    /// <summary>The nearest pairs first; nobody is in two.</summary>
    public static IReadOnlyList<(int Left, int Right)> Pairs(IReadOnlyList<double> left, IReadOnlyList<double> right, double tolerance)
    {
        var near = new List<(double Apart, int Left, int Right)>();
        for (int i = 0, first = 0; i < left.Count; i++)
        {
            while (first < right.Count && left[i] - right[first] > tolerance) first++;
            for (int j = first; j < right.Count && right[j] - left[i] <= tolerance; j++) near.Add((Math.Abs(right[j] - left[i]), i, j));
        }

        near.Sort();
        var (leftTaken, rightTaken) = (new bool[left.Count], new bool[right.Count]);
        var pairs = new List<(int, int)>();
        foreach (var (_, i, j) in near)
        {
            if (leftTaken[i] || rightTaken[j]) continue;
            leftTaken[i] = rightTaken[j] = true;
            pairs.Add((i, j));
        }

        return pairs;
    }
}
