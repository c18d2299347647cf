using CsCheck;
using MathNet.Numerics.Statistics;
using Stillwatch.Oximetry.Quality;
using Stillwatch.Rehearsal;
using Stillwatch.Tests.Alarms;
using Stillwatch.Tests.Oximetry.Ratio;

namespace Stillwatch.Tests.Oximetry.Quality;

/// <summary>Template correlation after Orphanidou et al., JBHI 2015;19:832: shapes on a fixed number of points, and their rolling mean.</summary>
public sealed class PulseShapeTests
{
    [Fact]
    public void A_beat_of_any_size_level_and_length_has_the_same_shape() =>
        Gen.Select(Gen.Int[32, 400], Gen.Double[0.001, 100], Gen.Double[-10, 10]).Sample((samples, size, level) =>
        {
            double[] plain = Shape(InventedBeats.Beat()), other = Shape([.. InventedBeats.Beat(samples, size).Select(x => x + level)]);
            Assert.InRange(Product(plain, other), 0.995, 1.0000001);
        }, iter: Sampling.Cases(200));

    [Fact]
    public void The_product_of_two_shapes_is_the_correlation_that_a_library_finds_between_the_beats() =>
        Gen.Select(Gen.Int[0, 100_000], Gen.Int[40, 200]).Sample((seed, samples) =>
        {
            var random = new SeededRandom((ulong)seed);
            double[] noise = InventedBeats.Noise(random, samples, 0.3), other = InventedBeats.Noise(random, samples, 0.3);
            double[] a = [.. InventedBeats.Beat(samples).Zip(noise, (x, n) => x + n)], b = [.. InventedBeats.Beat(samples).Zip(other, (x, n) => x + n)];
            Assert.Equal(Correlation.Pearson(Points(a), Points(b)), Product(Shape(a), Shape(b)), 1e-9);
        }, iter: Sampling.Cases(100));

    [Fact]
    public void What_does_not_move_or_has_a_hole_has_no_shape()
    {
        var points = new double[PulseShape.Points];
        Assert.False(PulseShape.Resample([3, 3, 3, 3], points));
        Assert.All(points, p => Assert.Equal(0, p));
        Assert.False(PulseShape.Resample([0, 1, double.NaN, 1, 0], points));
        Assert.All(points, p => Assert.Equal(0, p));
        Assert.True(PulseShape.Resample([0, 1], points));
    }

    [Fact]
    public void The_first_beat_agrees_and_the_same_beat_goes_on_agreeing()
    {
        var template = new ShapeTemplate();
        double[] shape = Shape(InventedBeats.Beat());
        for (int i = 0; i < 30; i++) Assert.Equal(1, template.Take(shape, 1), 1e-12);
        Assert.Equal(-1, template.Correlation([.. shape.Select(x => -x)]), 1e-12);
        Assert.Equal(ShapeTemplate.Memory, template.Beats);
    }

    [Fact]
    public void The_mean_shape_of_the_first_beats_is_their_plain_mean()
    {
        var template = new ShapeTemplate();
        var random = new SeededRandom(5);
        var shapes = Enumerable.Range(0, 8).Select(_ => Shape([.. InventedBeats.Beat().Zip(InventedBeats.Noise(random, 125, 0.2), (x, n) => x + n)])).ToArray();
        foreach (double[] shape in shapes) template.Take(shape, 1);
        double[] mean = [.. Enumerable.Range(0, PulseShape.Points).Select(i => shapes.Average(s => s[i]))];
        double[] probe = Shape(InventedBeats.Beat(90));
        Assert.Equal(Product(mean, probe) / Math.Sqrt(Product(mean, mean)), template.Correlation(probe), 1e-12);
    }

    [Fact]
    public void A_wave_without_a_pulses_shape_falls_below_the_published_threshold()
    {
        // 0.86 for a pleth: Orphanidou et al., from memory.
        var template = new ShapeTemplate();
        for (int i = 0; i < 10; i++) template.Take(Shape(InventedBeats.Beat()), 1);
        double[] wave = [.. Enumerable.Range(0, 100).Select(i => 1 - Math.Cos(4 * Math.PI * i / 99))];
        Assert.True(template.Correlation(Shape(wave)) < 0.86);
    }

    [Fact]
    public void A_bad_beat_hardly_changes_the_mean_and_a_new_shape_is_learnt()
    {
        var template = new ShapeTemplate();
        double[] shape = Shape(InventedBeats.Beat()), other = Shape([.. InventedBeats.Beat().Reverse()]);
        for (int i = 0; i < 20; i++) template.Take(shape, 1);
        template.Take(other, 0.1);
        Assert.True(template.Correlation(shape) > 0.999);
        for (int i = 0; i < 40; i++) template.Take(other, 1);
        Assert.True(template.Correlation(other) > 0.95);
        var copy = new ShapeTemplate();
        copy.CopyFrom(template);
        template.Take(shape, 1);
        Assert.True(copy.Correlation(other) > template.Correlation(other));
        template.Reset();
        Assert.Equal(1, template.Correlation(shape));
    }

    private static double[] Shape(double[] beat)
    {
        var points = new double[PulseShape.Points];
        Assert.True(PulseShape.Resample(beat, points));
        return points;
    }

    // The same points by an obvious road: where each lies, and the straight line between its neighbours.
    private static double[] Points(double[] beat) => [.. Enumerable.Range(0, PulseShape.Points).Select(i =>
    {
        double at = i * (beat.Length - 1.0) / (PulseShape.Points - 1);
        int left = (int)Math.Floor(Math.Min(at, beat.Length - 1.000001));
        return beat[left] * (left + 1 - at) + beat[left + 1] * (at - left);
    })];

    private static double Product(double[] a, double[] b) => a.Zip(b, (x, y) => x * y).Sum();
}
