using System.Globalization;
using CsCheck;
using Stillwatch.Oxygenation;
using Stillwatch.Oxygenation.Agreement;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Physiology;

/// <summary>Bias, Arms and limits of agreement against published figures, a plain second computation and open recordings.</summary>
public sealed class AgreementTests
{
    private static readonly double[] SpO2 = [98, 95, 92, 88, 84, 80, 76, 73];
    private static readonly double[] SaO2 = [97.2, 94.6, 90.1, 88.9, 82.0, 78.5, 77.4, 70.2];

    [Fact]
    public void Eight_invented_pairs_give_the_computed_figures()
    {
        // Invented input; bias, both SDs and Arms are arithmetic. The formula of Arms (ISO 80601-2-61) is from memory.
        var figures = PairedDifferences.Of(SpO2, SaO2).Value;
        Assert.Equal((8, 0), (figures.Pairs, figures.Skipped));
        Assert.Equal(0.8875, figures.Bias, 1e-12);
        Assert.Equal(1.46232, figures.SampleDeviation, 0.000005);
        Assert.Equal(1.36788, figures.PopulationDeviation, 0.000005);
        Assert.Equal(1.63057, figures.Arms, 0.000005);
        Assert.Equal(1.7106, Math.Sqrt(figures.Bias * figures.Bias + figures.SampleDeviation * figures.SampleDeviation), 0.00005); // the wrong SD in the identity
    }

    [Fact]
    public void Arms_is_made_of_bias_and_the_deviation_that_divides_by_n() =>
        Pairs.Sample(pairs =>
        {
            var figures = Figures(pairs);
            double[] differences = [.. pairs.Select(p => p.Item1 - p.Item2)];
            double mean = differences.Sum() / differences.Length, squares = differences.Sum(d => (d - mean) * (d - mean));
            Assert.Equal(mean, figures.Bias, 1e-9);
            Assert.Equal(Math.Sqrt(squares / (differences.Length - 1)), figures.SampleDeviation, 1e-9);
            Assert.Equal(Math.Sqrt(squares / differences.Length), figures.PopulationDeviation, 1e-9);
            Assert.Equal(figures.Arms * figures.Arms, figures.Bias * figures.Bias + figures.PopulationDeviation * figures.PopulationDeviation, 1e-8);
        }, iter: Sampling.Cases(500));

    [Fact]
    public void A_device_that_reads_two_higher_throughout_has_a_bias_two_higher_and_the_same_spread() =>
        Pairs.Sample(pairs =>
        {
            var before = Figures(pairs);
            var after = Figures([.. pairs.Select(p => (p.Item1 + 2, p.Item2))]);
            Assert.Equal(before.Bias + 2, after.Bias, 1e-9);
            Assert.Equal(before.SampleDeviation, after.SampleDeviation, 1e-9);
        }, iter: Sampling.Cases(300));

    [Fact]
    public void A_pair_with_a_number_missing_is_left_out_and_counted()
    {
        var whole = PairedDifferences.Of(SpO2, SaO2).Value;
        var gappy = PairedDifferences.Of([.. SpO2, double.NaN, 90, double.PositiveInfinity], [.. SaO2, 90, double.NaN, 90]).Value;
        Assert.Equal(whole with { Skipped = 3 }, gappy);
    }

    [Fact]
    public void Fewer_than_two_pairs_have_no_spread()
    {
        Assert.Contains("1 pair(s)", PairedDifferences.Of([97, 96], [96, double.NaN]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("0 pair(s)", PairedDifferences.Of([], []).WhyNot, StringComparison.Ordinal);
        Assert.Throws<ArgumentException>(() => PairedDifferences.Of([97, 96], [96]));
    }

    // Arms | bias | pairs of a subject, PMC10726006 table T4
    private const string PublishedSubjects = """
        2.0 | 1 | 20
        1.8 | 0.5 | 25
        1.8 | -0.8 | 25
        3.6 | -0.5 | 25
        3.0 | 1.7 | 24
        2.3 | -1.2 | 25
        2.6 | -0.5 | 25
        4.2 | 3.4 | 25
        2.8 | 0.6 | 25
        2.5 | -0.7 | 25
        1.7 | 0.4 | 25
        1.3 | -0.7 | 26
        2.2 | -1.3 | 26
        0.9 | -0.4 | 26
        0.9 | -0.4 | 26
        """;

    [Fact]
    public void Fifteen_published_subjects_pool_to_the_published_line()
    {
        ArmsLine[] subjects = [.. PublishedSubjects.Split('\n').Select(line => new Cells(line)).Select(c => new ArmsLine(c.Number(0), c.Number(1), (int)c.Number(2)))];
        var pooled = PooledArms.Of(subjects).Value;
        Assert.Equal(373, pooled.Pairs); // published: 2.4 / 0.05 / 373
        Assert.Equal(2.4, pooled.Arms, 0.05);
        Assert.Equal(0.05, pooled.Bias, 0.005);
        Assert.Equal(2.407, pooled.Arms, 0.0005); // arithmetic on the printed lines
        Assert.Equal(0.048, pooled.Bias, 0.0005);
    }

    [Fact]
    public void Pooling_lines_equals_counting_all_pairs_together() =>
        Gen.Select(Pairs, Pairs).Sample((first, second) =>
        {
            var together = Figures([.. first, .. second]);
            var pooled = PooledArms.Of([Line(first), Line(second)]).Value;
            Assert.Equal(together.Pairs, pooled.Pairs);
            Assert.Equal(together.Bias, pooled.Bias, 1e-9);
            Assert.Equal(together.Arms, pooled.Arms, 1e-9);
        }, iter: Sampling.Cases(300));

    [Fact]
    public void Lines_that_cannot_be_are_not_pooled()
    {
        Assert.Contains("no lines", PooledArms.Of([]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("line 2", PooledArms.Of([new(2, 1, 20), new(1, 2, 20)]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("line 1", PooledArms.Of([new(double.NaN, 1, 20)]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("line 1", PooledArms.Of([new(2, double.NaN, 20)]).WhyNot, StringComparison.Ordinal);
        Assert.Contains("line 1", PooledArms.Of([new(2, 1, 0)]).WhyNot, StringComparison.Ordinal);
    }

    // Arms | 3.0, transmittance | 3.5, reflectance | 4.0, the standard | source: 3.0 and 3.5 secondary copy; 4.0 from memory
    [Theory]
    [InlineData("2.4 | yes | yes | yes")]
    [InlineData("3.0 | yes | yes | yes")]
    [InlineData("3.2 | no | yes | yes")]
    [InlineData("4.0 | no | no | yes")]
    [InlineData("4.01 | no | no | no")]
    [InlineData("NaN | no | no | no")]
    public void Acceptance(string row)
    {
        var cells = new Cells(row);
        Assert.Equal(
            [cells[1], cells[2], cells[3]],
            new[] { ArmsLimit.Transmittance, ArmsLimit.Reflectance, ArmsLimit.Standard }.Select(limit => limit.IsMetBy(cells.Number(0)) ? "yes" : "no"));
    }

    // tested-reference | pairs | bias | SD by n − 1 | SD by n | RMS | limits where the truth varies. Hoffman et al., npj Digit Med 2022;5:146: four
    // healthy adults, rows with all four oximeters above 40 %. The figures are the output of (numpy 1.24.2)
    //   python3 test/Stillwatch.Tests/Physiology/independent_agreement.py ../shared/data/controlled-desaturation/numerics
    // Between oximeters, not against arterial blood.
    [Theory]
    [InlineData("1-2 | 4293 | -0.700908 | 3.339709 | 3.339320 | 3.412086 | -7.382551 | 5.980734")]
    [InlineData("1-4 | 4293 | -0.020266 | 1.591578 | 1.591393 | 1.591522 | -3.223801 | 3.183269")]
    [InlineData("1-5 | 4293 | -0.293501 | 1.841437 | 1.841223 | 1.864469 | -4.136088 | 3.549086")]
    [InlineData("2-4 | 4293 | 0.680643 | 2.709668 | 2.709353 | 2.793540 | -4.680281 | 6.041567")]
    [InlineData("2-5 | 4293 | 0.407407 | 3.162736 | 3.162368 | 3.188503 | -5.883778 | 6.698592")]
    [InlineData("4-5 | 4293 | -0.273235 | 1.706471 | 1.706273 | 1.728012 | -3.742366 | 3.195895")]
    public void Four_oximeters_on_one_person_agree_as_an_independent_computation_says(string row)
    {
        var cells = new Cells(row);
        var subjects = new[] { "100001", "100002", "100003", "100004" }.Select(file => Columns(file, cells[0][0] - '0', cells[0][2] - '0')).ToList();
        var figures = PairedDifferences.Of([.. subjects.SelectMany(s => s.Tested)], [.. subjects.SelectMany(s => s.Reference)]).Value;
        cells.Holds(1, figures.Pairs);
        cells.Holds(2, figures.Bias);
        cells.Holds(3, figures.SampleDeviation);
        cells.Holds(4, figures.PopulationDeviation);
        cells.Holds(5, figures.Arms);
        var limits = RepeatedMeasures.WhereTruthVaries(subjects).Value.Limits;
        cells.Holds(6, limits.Lower);
        cells.Holds(7, limits.Upper);
        Assert.True(limits.Upper - limits.Lower > figures.NaiveLimits.Upper - figures.NaiveLimits.Lower, "limits that know the subjects are wider");
    }

    private static SubjectReadings Columns(string file, int tested, int reference)
    {
        var rows = File.ReadLines(OpenRecordings.Path($"controlled-desaturation/numerics/{file}.csv")).Skip(1)
            .Select(line => line.Split(',').Skip(1).Take(5).Select(c => double.TryParse(c, CultureInfo.InvariantCulture, out double v) ? v : double.NaN).ToArray())
            .Where(v => v.Length == 5 && v[0] > 40 && v[1] > 40 && v[3] > 40 && v[4] > 40)
            .ToList();
        return new SubjectReadings([.. rows.Select(v => v[tested - 1])], [.. rows.Select(v => v[reference - 1])]);
    }

    private static readonly Gen<(double, double)[]> Pairs = Gen.Select(Gen.Double[60, 100], Gen.Double[60, 100]).Array[2, 40];

    private static PairedDifferences Figures((double, double)[] pairs) => PairedDifferences.Of([.. pairs.Select(p => p.Item1)], [.. pairs.Select(p => p.Item2)]).Value;

    private static ArmsLine Line((double, double)[] pairs) => Figures(pairs) is var f ? new ArmsLine(f.Arms, f.Bias, f.Pairs) : default;
}
