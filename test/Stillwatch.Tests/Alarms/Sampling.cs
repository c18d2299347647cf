namespace Stillwatch.Tests.Alarms;

/// <summary>How many cases a property test draws: few in the normal run, many with STILLWATCH_FULL=1. A failure prints its seed.</summary>
internal static class Sampling
{
    public static long Cases(int normally) =>
        Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? normally * 50L : normally;
}
