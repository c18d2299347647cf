using System.Text;

namespace Stillwatch.App.Tests.Running;

/// <summary>A folder of its own for one test, gone afterwards.</summary>
internal sealed class Folder : IDisposable
{
    public Folder() => Path = Directory.CreateTempSubdirectory("stillwatch-test-").FullName;

    public string Path { get; }

    public string this[string name] => System.IO.Path.Combine(Path, name);

    public string Write(string name, string text)
    {
        File.WriteAllText(this[name], text, new UTF8Encoding(false));
        return this[name];
    }

    /// <summary>An invented recording, one row a second, with a long fall to 78 % in each hour and a short one to 86 %.</summary>
    public string WriteNight(string name, int seconds = 3 * 3600, int periodSeconds = 1)
    {
        var text = new StringBuilder("Time,SpO2,Pulse\n");
        var start = new DateTime(2026, 3, 2, 22, 0, 0, DateTimeKind.Unspecified);
        for (int t = 0; t < seconds; t += periodSeconds)
            text.Append(start.AddSeconds(t).ToString("yyyy-MM-ddTHH:mm:ss")).Append(',').Append(SpO2At(t % 3600)).Append(",72\n");
        return Write(name, text.ToString());
    }

    public void Dispose() => Directory.Delete(Path, recursive: true);

    private static int SpO2At(int second) => second switch
    {
        >= 600 and < 620 => 95 - (second - 600) * 17 / 20,
        >= 620 and < 740 => 78,
        >= 740 and < 760 => 78 + (second - 740) * 17 / 20,
        >= 1800 and < 1814 => 86,
        _ => 95,
    };
}
