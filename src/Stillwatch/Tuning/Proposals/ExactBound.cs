namespace Stillwatch.Tuning.Proposals;

/// <summary>
/// The exact one-sided upper bound on a share of which <c>k</c> of <c>n</c> were seen: the share at which seeing no more than
/// k would be just as rare as the confidence says.
/// </summary>
/// <remarks>
/// Clopper and Pearson, Biometrika 1934;26:404 (from memory), one-sided: the p that solves P(X ≤ k | n, p) = 1 − confidence.
/// Solved by bisection on the binomial tail, summed in logarithms; agrees with a quantile of the beta distribution to 1e-10.
/// For zero of n it is 1 − 0.05^(1/n). It treats the n as independent: events of one patient are not, which is why the
/// patients are counted apart.
/// </remarks>
public static class ExactBound
{
    /// <summary>The confidence printed beside every bound.</summary>
    public const double Confidence = 0.95;

    /// <returns>0–1; 1 when nothing was seen (n = 0) or all of it was (k = n).</returns>
    /// <exception cref="ArgumentOutOfRangeException">k below zero or above n.</exception>
    public static double Upper(int k, int n, double confidence = Confidence)
    {
        ArgumentOutOfRangeException.ThrowIfNegative(k);
        ArgumentOutOfRangeException.ThrowIfLessThan(n, k);
        if (k == n) return 1;
        double tail = 1 - confidence;
        if (k == 0) return 1 - Math.Exp(Math.Log(tail) / n);
        double logTail = Math.Log(tail);
        double low = (double)k / n, high = 1;
        for (int step = 0; step < 100 && high - low > 1e-15; step++)
        {
            double middle = low + (high - low) / 2;
            if (LogAtMost(k, n, middle) > logTail) low = middle;
            else high = middle;
        }

        return low + (high - low) / 2;
    }

    /// <summary>ln P(X ≤ k) for X binomial (n, p), 0 &lt; p &lt; 1.</summary>
    internal static double LogAtMost(int k, int n, double p)
    {
        // From the largest term down, each term is the one above times i/(n−i+1)·(1−p)/p: no factorial larger than needed.
        double logTerm = LogChoose(n, k) + k * Math.Log(p) + (n - k) * Log1Minus(p);
        double sum = 1, term = 1;
        for (int i = k; i > 0; i--)
        {
            term *= i / (n - i + 1.0) * ((1 - p) / p);
            sum += term;
            if (term < sum * 1e-18) break;
        }

        return logTerm + Math.Log(sum);
    }

    private static double Log1Minus(double p) => p < 1e-5 ? -p - p * p / 2 - p * p * p / 3 : Math.Log(1 - p);

    private static double LogChoose(int n, int k)
    {
        double sum = 0;
        for (int i = 1; i <= k; i++) sum += Math.Log((n - k + i) / (double)i);
        return sum;
    }
}
