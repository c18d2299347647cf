using Microsoft.AspNetCore.Builder;
using Microsoft.AspNetCore.Http;
using Stillwatch.Alarms.Sound;

namespace Stillwatch.App.Workbench.Hearing;

/// <summary>Scores that a page has made lately, so that each can be fetched as a sound file.</summary>
internal sealed class ScoreShelf
{
    private const int Kept = 32;

    private readonly Lock door = new();
    private readonly Queue<(string Name, NightScore Score)> scores = new();

    /// <returns>The name under which it can be fetched until enough newer ones came.</returns>
    public string Put(NightScore score)
    {
        string name = Guid.NewGuid().ToString("N");
        lock (door)
        {
            scores.Enqueue((name, score));
            if (scores.Count > Kept) scores.Dequeue();
        }

        return name;
    }

    public NightScore? Find(string name)
    {
        lock (door) return scores.FirstOrDefault(s => s.Name == name).Score;
    }
}

/// <summary>A minute of sound as a file.</summary>
internal static class SoundEndpoint
{
    public static string LinkTo(string name) => $"hearing/{name}.wav";

    public static void MapSound(this WebApplication app) => app.MapGet("/hearing/{name}.wav", (string name, ScoreShelf shelf) => shelf.Find(name) is { } score
        ? Results.File(ScoreWave.Of(score), "audio/wav", "stillwatch-night.wav")
        : Results.Text("Found no such sound, expected one that an open page has made; make it again there.", statusCode: StatusCodes.Status404NotFound));
}
