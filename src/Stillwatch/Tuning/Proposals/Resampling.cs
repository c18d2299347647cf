namespace Stillwatch.Tuning.Proposals;

/// <summary>
/// Resamples of patients, drawn once: each gives as many patients as there are, drawn with replacement. Intervals are the
/// 2.5th and 97.5th percentile of the resampled values.
/// </summary>
/// <remarks>
/// The percentile bootstrap over patients (Efron, Ann Statist 1979;7:1, from memory). Nights of one patient stay together,
/// because they are alike. With few patients such intervals are too narrow: said beside them.
/// </remarks>
internal sealed class Resampling
{
    public const string Method = "interval: 2.5th to 97.5th percentile over resamples of patients, with replacement, a patient's recordings kept together";

    private readonly int patients;
    private readonly int[][] weights;

    public Resampling(int patients, int resamples, ulong seed)
    {
        this.patients = patients;
        var draws = SeededDraws.For(seed, purpose: 1);
        weights = new int[resamples][];
        for (int r = 0; r < resamples; r++)
        {
            weights[r] = new int[patients];
            for (int i = 0; i < patients; i++) weights[r][draws.Below(patients)]++;
        }
    }

    public IReadOnlyList<int[]> Weights => weights;

    /// <summary>A value on all patients with its interval; values that are not a number in a resample (no valid time drawn) are left out.</summary>
    public Estimate Estimate(double value, Func<int[], double> ofWeights)
    {
        if (patients < 2) return new Estimate(value, null, null); // one patient resampled is always the same patient
        var values = weights.Select(ofWeights).Where(v => !double.IsNaN(v)).Order().ToArray();
        return values.Length == 0
            ? new Estimate(value, null, null)
            : new Estimate(value, Percentile(values, 0.025), Percentile(values, 0.975));
    }

    /// <summary>Linear between the closest ranks.</summary>
    internal static double Percentile(IReadOnlyList<double> rising, double share)
    {
        double at = share * (rising.Count - 1);
        int below = (int)Math.Floor(at);
        int above = Math.Min(below + 1, rising.Count - 1);
        return rising[below] + (at - below) * (rising[above] - rising[below]);
    }
}
