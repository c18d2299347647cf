using CsCheck;
using Xunit;

namespace Stillwatch.Tests.Map;

/// <summary>The map is a faster road to the same numbers: every cell equals the naive twin run for that one setting.</summary>
public sealed class MapAgainstTwinTests
{
    private static readonly bool Full = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1";

    [Fact]
    public void Every_cell_of_the_map_equals_the_twin_on_short_series() =>
        MapCase.Draw(maxSegments: 14, maxRows: 200).Sample(Agrees, iter: Full ? 40_000 : 4000, threads: 1, seed: Full ? null : "8ks5fTMvkRh1");

    [Fact]
    public void Every_cell_of_the_map_equals_the_twin_on_series_of_up_to_2000_samples() =>
        MapCase.Draw(maxSegments: 200, maxRows: 2000).Sample(Agrees, iter: Full ? 2000 : 150, threads: 1, seed: Full ? null : "8ks5fTMvkRh1");

    private static void Agrees(MapCase drawn)
    {
        string differences = MapComparison.Differences(drawn);
        if (differences.Length > 0) throw new InvalidOperationException($"{differences}\n{drawn}");
    }
}
