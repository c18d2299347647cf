namespace Stillwatch.Accuracy.Beats;

/// <summary>Shown saturation beside the true one, over all that was shown.</summary>
internal sealed class Agreement
{
    private readonly List<double> differences = [];

    public int Count => differences.Count;

    public void Add(double shown, double truth) => differences.Add(shown - truth);

    public void Add(Agreement others) => differences.AddRange(others.differences);

    public double Bias => differences.Count == 0 ? double.NaN : differences.Average();

    /// <summary>Arms = √[Σ(SpO2,i − SR,i)²/n] (ISO 80601-2-61, 201.12.1.101; formula from memory); NaN with nothing shown.</summary>
    public double Arms
    {
        get
        {
            if (differences.Count == 0) return double.NaN;
            double direct = Math.Sqrt(differences.Sum(d => d * d) / differences.Count);
            // The same by the other road: √(bias² + population variance).
            double bias = Bias, variance = differences.Sum(d => (d - bias) * (d - bias)) / differences.Count;
            double other = Math.Sqrt(bias * bias + variance);
            return Math.Abs(direct - other) <= 1e-9 * Math.Max(1, direct) ? direct : throw new InvalidOperationException($"Arms by two roads: {direct} and {other}.");
        }
    }

    public double GreatestError => differences.Count == 0 ? double.NaN : differences.Max(Math.Abs);
}
