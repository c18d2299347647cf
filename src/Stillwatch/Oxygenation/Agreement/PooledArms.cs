namespace Stillwatch.Oxygenation.Agreement;

/// <summary>One subject's or one study's line.</summary>
public readonly record struct ArmsLine(double Arms, double Bias, int Pairs);

/// <summary>Several lines as one, as if all pairs had been counted together: √(ΣN·Arms²/ΣN), ΣN·bias/ΣN.</summary>
public static class PooledArms
{
    /// <returns>The pooled line, or why there is none: no line, or one with a number missing, an Arms below its bias or no pairs.</returns>
    public static Answer<ArmsLine> Of(IReadOnlyList<ArmsLine> lines)
    {
        ArgumentNullException.ThrowIfNull(lines);
        if (lines.Count == 0) return Answer.None<ArmsLine>("no lines to pool");
        double squares = 0, biases = 0;
        int pairs = 0;
        for (int index = 0; index < lines.Count; index++)
        {
            var (arms, bias, count) = lines[index];
            if (count <= 0 || !double.IsFinite(arms) || !(arms >= Math.Abs(bias)))
                return Answer.None<ArmsLine>($"line {index + 1}: Arms {arms}, bias {bias}, {count} pairs; expected Arms at least as large as the bias, and pairs");
            squares += count * arms * arms;
            biases += count * bias;
            pairs += count;
        }

        return Answer.Of(new ArmsLine(Math.Sqrt(squares / pairs), biases / pairs, pairs));
    }
}
