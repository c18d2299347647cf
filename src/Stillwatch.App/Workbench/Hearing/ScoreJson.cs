using System.Text.Json;
using Stillwatch.Alarms;
using Stillwatch.Alarms.Sound;

namespace Stillwatch.App.Workbench.Hearing;

/// <summary>A score as the script in the browser plays it: everything in seconds and already as fast as it is to be heard.</summary>
internal static class ScoreJson
{
    public static JsonElement Of(NightScore score) => JsonSerializer.SerializeToElement(new
    {
        length = score.Length.Seconds,
        patterns = BurstPatterns.All.ToDictionary(p => Json.Shapes.Name(p.Priority), p => new
        {
            fundamental = p.FundamentalHertz,
            harmonics = p.HarmonicDecibels.Select(d => Math.Pow(10, d / 20)),
            rise = p.RiseShare,
            pulses = p.Pulses.Select(x => new { at = x.Start.Seconds / NightScore.BurstsFaster, length = x.Length.Seconds / NightScore.BurstsFaster }),
        }),
        bursts = score.Bursts.Select(b => new { at = b.Start.Seconds, priority = Json.Shapes.Name<AlarmPriority>(b.Priority) }),
    });
}
