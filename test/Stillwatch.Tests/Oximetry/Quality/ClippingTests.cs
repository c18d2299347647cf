using CsCheck;
using Stillwatch.Oximetry.Quality;
using Stillwatch.Tests.Alarms;

namespace Stillwatch.Tests.Oximetry.Quality;

/// <summary>Flat tops and bottoms, found without knowing the converter's ends.</summary>
public sealed class ClippingTests
{
    // what it is | samples | clipped samples | longest run
    private const string Rows = """
        nothing moves                        | 7 7 7 7 7 7 7 7                          | 0 | 8
        always moves                         | 1 2 3 4 3 2 1 2                          | 0 | 0
        cut top                              | 1 3 5 9 9 9 9 9 9 5 3 1                  | 6 | 6
        cut bottom                           | 9 8 4 0 0 0 0 0 0 0 3 5                  | 7 | 7
        both cut                             | 0 0 0 0 0 0 4 5 7 9 9 9 9 9 9 9          | 13 | 7
        five are too few                     | 1 3 5 9 9 9 9 9 5 3 1                    | 0 | 0
        a crest rounded to whole counts      | 1 2 3 4 5 5 5 5 5 5 5 4 3 2 1            | 0 | 7
        a rounded foot before a steep rise   | 5 4 3 2 2 2 2 2 2 2 6 9 8                | 0 | 7
        a run below the top                  | 1 3 5 5 5 5 5 5 9 3 1                    | 0 | 6
        cut at the start of the stretch      | 9 9 9 9 9 9 5 3 1 2                      | 6 | 6
        cut at its end                       | 1 2 5 9 9 9 9 9 9                        | 6 | 6
        two tops, one cut and one touched    | 9 5 9 9 9 9 9 9 5 1 2                    | 6 | 6
        a hole is no run                     | 1 NaN NaN NaN NaN NaN NaN 2 1 2          | 0 | 0
        nothing                              |                                          | 0 | 0
        """;

    [Fact]
    public void Flat_tops_are_told_from_rounded_crests()
    {
        foreach (string row in Rows.Split('\n'))
        {
            string[] cells = row.Split('|', StringSplitOptions.TrimEntries);
            double[] samples = [.. cells[1].Split(' ', StringSplitOptions.RemoveEmptyEntries).Select(double.Parse)];
            var found = Clipping.Of(samples);
            Assert.Equal((cells[0], cells[2], cells[3]), (cells[0], $"{found.ClippedShare * samples.Length:0}", $"{found.FlatShare * samples.Length:0}"));
        }
    }

    [Fact]
    public void The_quick_road_finds_the_same_longest_run_as_looking_at_every_sample() =>
        Gen.Int[0, 2].Array[0, 60].Sample(counts =>
        {
            double[] samples = [.. counts.Select(c => (double)c)];
            int longest = 0, run = 0;
            for (int i = 0; i < samples.Length; i++)
            {
                run = i > 0 && samples[i] == samples[i - 1] ? run + 1 : 1;
                longest = Math.Max(longest, run);
            }

            double expected = samples.Length > 0 && longest >= Clipping.LeastRun ? (double)longest / samples.Length : 0;
            Assert.Equal(expected, Clipping.Of(samples).FlatShare, 1e-12);
        }, iter: Sampling.Cases(2000));

    [Fact]
    public void A_pulse_in_whole_counts_is_not_clipped_and_the_same_pulse_with_its_top_cut_off_is()
    {
        // 200 counts from trough to peak, 125 a second.
        double[] pulse = [.. Enumerable.Range(0, 125).Select(i => Math.Round(1000 + 100 * Math.Sin(2 * Math.PI * i / 100)))];
        Assert.Equal(0, Clipping.Of(pulse).ClippedShare);
        Assert.True(Clipping.Of([.. pulse.Select(p => Math.Min(p, 1080))]).ClippedShare > 0.1);
        Assert.True(Clipping.Of([.. pulse.Select(p => Math.Max(p, 950))]).ClippedShare > 0.1);
    }
}
