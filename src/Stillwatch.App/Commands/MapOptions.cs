using System.CommandLine;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Time;
using Stillwatch.Tuning.Map;

namespace Stillwatch.App.Commands;

/// <summary>The options that span a settings map.</summary>
internal sealed class MapOptions
{
    // Fifty times the default; a larger map takes long, takes memory, and says nothing more to anyone.
    private const long MostCells = 500_000;

    private readonly Option<NumberRange> limits = SharedOptions.Limits();
    private readonly Option<NumberRange> delays = SharedOptions.Delays();
    private readonly Option<NumberRange> areas = SharedOptions.Areas();
    private readonly Option<decimal> clearMargin = SharedOptions.ClearMargin();

    public void AddTo(Command command)
    {
        command.Options.Add(limits);
        command.Options.Add(delays);
        command.Options.Add(areas);
        command.Options.Add(clearMargin);
    }

    /// <exception cref="StopException">Exit code 2: more cells than can be of use.</exception>
    public MapRequest Of(ParseResult parsed, ConditioningSettings conditioning)
    {
        var l = parsed.GetRequiredValue(limits);
        var d = parsed.GetRequiredValue(delays);
        var a = parsed.GetRequiredValue(areas);
        long cells = (long)l.Count * Math.Max(d.Count, a.Count);
        if (cells > MostCells)
            throw StopException.Usage(new Trouble("the map would be too large", $"{cells} cells", $"at most {MostCells}", "--limits, --delays, --areas", "a step is missing: --delays 0..300/5"));
        var grid = new MapGrid(
            [.. l.Values.Select(FixedPoint.ToMicro)],
            [.. d.Values.Select(Duration.FromSeconds)],
            [.. a.Values.Select(Area.Of)]);
        return new MapRequest(LimitSide.Low, grid, FixedPoint.ToMicro(parsed.GetValue(clearMargin)), Backstop: null, conditioning);
    }
}
