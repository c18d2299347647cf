using CsCheck;
using Stillwatch.Dsp;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Dsp;

public sealed class HermiteCurveTests
{
    private static readonly Gen<CurvePoint[]> FourPoints =
        Gen.Select(Gen.Double[0.001, 1].Array[4], Gen.Double[-100, 100].Array[4]).Select((steps, values) =>
            steps.Select((_, i) => new CurvePoint(steps.Take(i + 1).Sum(), values[i])).ToArray());

    [Fact]
    public void Constants_lines_and_parabolas_come_back() =>
        Gen.Select(FourPoints, Gen.Double[-5, 5].Array[3], Gen.Double[0, 1]).Sample((points, c, place) =>
        {
            double Parabola(double t) => c[0] + t * (c[1] + t * c[2]);
            var p = points.Select(x => x with { Value = Parabola(x.Seconds) }).ToArray();
            double Within(int left) => p[left].Seconds + place * (p[left + 1].Seconds - p[left].Seconds);
            Assert.Equal(Parabola(Within(1)), HermiteCurve.Between(p[0], p[1], p[2], p[3], Within(1)), 1e-9);
            Assert.Equal(Parabola(Within(0)), HermiteCurve.AtStart(p[0], p[1], p[2], Within(0)), 1e-9);
            Assert.Equal(Parabola(Within(1)), HermiteCurve.AtEnd(p[0], p[1], p[2], Within(1)), 1e-9);
        }, iter: Sampling.Cases(1000));

    /// <summary>The four basis polynomials of the cubic Hermite form, and slopes by solving for the parabola: as a textbook has it (from memory).</summary>
    [Fact]
    public void It_is_the_textbooks_cubic() =>
        Gen.Select(FourPoints, Gen.Double[0, 1]).Sample((p, u) =>
        {
            double Slope(int i)
            {
                // Newton's divided differences of the parabola through i - 1, i, i + 1, derived at i.
                double first = (p[i].Value - p[i - 1].Value) / (p[i].Seconds - p[i - 1].Seconds);
                double next = (p[i + 1].Value - p[i].Value) / (p[i + 1].Seconds - p[i].Seconds);
                double second = (next - first) / (p[i + 1].Seconds - p[i - 1].Seconds);
                return first + second * (p[i].Seconds - p[i - 1].Seconds);
            }

            double step = p[2].Seconds - p[1].Seconds;
            double expected = (2 * u * u * u - 3 * u * u + 1) * p[1].Value + (u * u * u - 2 * u * u + u) * step * Slope(1)
                + (-2 * u * u * u + 3 * u * u) * p[2].Value + (u * u * u - u * u) * step * Slope(2);
            double scale = 1 + Math.Abs(Slope(1) * step) + Math.Abs(Slope(2) * step) + 100;
            Assert.Equal(expected, HermiteCurve.Between(p[0], p[1], p[2], p[3], p[1].Seconds + u * step), 1e-9 * scale);
        }, iter: Sampling.Cases(1000));

    [Fact]
    public void It_passes_through_its_points()
    {
        CurvePoint[] p = [new(0, 3), new(0.03, 5), new(0.09, -2), new(0.1, 7)];
        Assert.Equal(5, HermiteCurve.Between(p[0], p[1], p[2], p[3], 0.03), 12);
        Assert.Equal(-2, HermiteCurve.Between(p[0], p[1], p[2], p[3], 0.09), 12);
        Assert.Equal(4, HermiteCurve.Line(p[0], p[1], 0.015), 12);
    }

    [Fact]
    public void No_number_in_gives_no_number_out() =>
        Assert.True(double.IsNaN(HermiteCurve.Between(new(0, double.NaN), new(1, 1), new(2, 2), new(3, 1), 1.5)));
}
