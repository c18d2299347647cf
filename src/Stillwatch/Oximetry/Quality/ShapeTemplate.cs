using System.Numerics.Tensors;

namespace Stillwatch.Oximetry.Quality;

/// <summary>
/// The mean shape of the pulses so far, the later the heavier, and how well the next one agrees with it: template correlation (Orphanidou et al., JBHI
/// 2015;19:832). Their threshold for the pleth, 0.86, is from memory.
/// </summary>
public sealed class ShapeTemplate
{
    private readonly double[] mean = new double[PulseShape.Points];

    /// <summary>Beats that the mean shape rests on, at most <see cref="Memory"/>.</summary>
    public int Beats { get; private set; }

    /// <summary>Over how many beats the mean forgets. Own choice: a template that outlives a new position of the sensor refuses good pulses.</summary>
    public const int Memory = 12;

    /// <summary>Correlation with the mean shape so far; 1 for the first beat. Then the beat joins the mean, as heavy as its weight says.</summary>
    public double Take(ReadOnlySpan<double> shape, double weight)
    {
        double correlation = Correlation(shape);
        if (Beats < Memory) Beats++;
        double share = weight / Beats;
        for (int i = 0; i < mean.Length; i++) mean[i] += share * (shape[i] - mean[i]);
        return correlation;
    }

    /// <summary>Correlation with the mean shape; 1 where there is none yet.</summary>
    public double Correlation(ReadOnlySpan<double> shape)
    {
        if (Beats == 0) return 1;
        double norm = TensorPrimitives.Norm(mean);
        return norm > 0 ? TensorPrimitives.Dot(mean, shape) / norm : 0;
    }

    /// <summary>Becomes what the other one is now.</summary>
    public void CopyFrom(ShapeTemplate other)
    {
        other.mean.CopyTo(mean, 0);
        Beats = other.Beats;
    }

    public void Reset()
    {
        Beats = 0;
        Array.Clear(mean);
    }
}
