using System.Diagnostics;
using System.Globalization;

namespace Stillwatch.Bench;

/// <summary>A script in bench/peers that runs once per call and answers with <c>key=value</c> pairs on one line.</summary>
internal sealed class PeerScript
{
    private const string Python = "/usr/bin/python3";
    private const int LibraryIsMissing = 3;

    private readonly string path;

    private PeerScript(string path) => this.path = path;

    /// <summary>Null where the script or Python is not there.</summary>
    public static PeerScript? Find(string name)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string script = Path.Combine(folder.FullName, "bench", "peers", name);
            if (File.Exists(script)) return File.Exists(Python) ? new PeerScript(script) : null;
        }

        return null;
    }

    /// <summary>The answer; null where what the script imports is missing.</summary>
    public Answered? Run(params string[] arguments)
    {
        var start = new ProcessStartInfo(Python) { RedirectStandardOutput = true };
        start.ArgumentList.Add(path);
        foreach (string argument in arguments) start.ArgumentList.Add(argument);
        using var process = Process.Start(start)!;
        string answer = process.StandardOutput.ReadToEnd().Trim();
        process.WaitForExit();
        return process.ExitCode switch
        {
            0 => new Answered(answer),
            LibraryIsMissing => null,
            _ => throw new InvalidOperationException($"{path} ended with exit status {process.ExitCode}: {answer}"),
        };
    }

    internal sealed record Answered(string Line)
    {
        public double Number(string key) => double.Parse(Text(key), CultureInfo.InvariantCulture);

        public string Text(string key) => Line.Split(' ').First(f => f.StartsWith(key + "=", StringComparison.Ordinal))[(key.Length + 1)..];
    }
}
