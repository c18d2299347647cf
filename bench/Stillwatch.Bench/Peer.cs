using System.Diagnostics;
using System.Globalization;

namespace Stillwatch.Bench;

/// <summary>A script in bench/peers that stays alive and runs once per line asked, so that all take turns on the same machine.</summary>
internal sealed class Peer : IDisposable
{
    private readonly Process process;

    private Peer(string name, string script, params string[] arguments)
    {
        Name = name;
        var start = new ProcessStartInfo("/usr/bin/python3") { RedirectStandardInput = true, RedirectStandardOutput = true };
        start.ArgumentList.Add(Path.Combine(Folder(), script));
        foreach (string argument in arguments) start.ArgumentList.Add(argument);
        process = Process.Start(start) ?? throw new InvalidOperationException($"Peer {name}: /usr/bin/python3 did not start.");
        Version = Ask("version");
    }

    /// <summary>Null, and a line that says so, where Python or what the script imports is missing.</summary>
    public static Peer? StartIfThere(string name, string script, params string[] arguments)
    {
        try
        {
            return new Peer(name, script, arguments);
        }
        catch (Exception missing) when (missing is System.ComponentModel.Win32Exception or InvalidOperationException or IOException)
        {
            Console.WriteLine($"Peer {name} is left out: {missing.Message}");
            return null;
        }
    }

    public string Name { get; }

    public string Version { get; }

    /// <summary>Seconds that one run took, by the peer's own clock.</summary>
    public double Run() => double.Parse(Ask("run"), CultureInfo.InvariantCulture);

    /// <summary>Signals, then seconds of signal, limit by limit and delay by delay; −1 for a null cell, −2 for one that was not run.</summary>
    public long[] Answer(string path)
    {
        Ask($"counts {path}");
        byte[] bytes = File.ReadAllBytes(path);
        var counts = new long[bytes.Length / 8];
        Buffer.BlockCopy(bytes, 0, counts, 0, bytes.Length);
        return counts;
    }

    public void Dispose()
    {
        process.StandardInput.Close();
        process.WaitForExit();
        process.Dispose();
    }

    private string Ask(string line)
    {
        process.StandardInput.WriteLine(line);
        process.StandardInput.Flush();
        return process.StandardOutput.ReadLine() ?? throw new InvalidOperationException($"Peer {Name}: ended instead of answering '{line}'; its error text stands above.");
    }

    private static string Folder()
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            string peers = Path.Combine(folder.FullName, "bench", "peers");
            if (Directory.Exists(peers)) return peers;
        }

        throw new DirectoryNotFoundException("Found no folder bench/peers above the program, expected the checkout.");
    }
}
