using System.Diagnostics;
using Stillwatch.Storage.Tests.Servers;

[assembly: AssemblyFixture(typeof(PostgresServer))]

namespace Stillwatch.Storage.Tests.Servers;

/// <summary>
/// A PostgreSQL server of the tests' own: Debian's programs in a private folder, reached through a socket there and by no network. It
/// starts when the first test asks and stops after the last. Without the programs tests are skipped on a laptop and fail in CI.
/// </summary>
public sealed class PostgresServer : IDisposable
{
    private static readonly Lazy<Running?> Server = new(Start);

    public static string ConnectionString
    {
        get
        {
            if (Server.Value is { } running) return $"Host={running.Folder};Username=postgres;Database=postgres";
            const string Missing = "PostgreSQL is not on this machine; on Debian, as root: apt-get install postgresql";
            if (string.Equals(Environment.GetEnvironmentVariable("CI"), "true", StringComparison.OrdinalIgnoreCase)) Assert.Fail(Missing);
            Assert.Skip(Missing);
            return "";
        }
    }

    public void Dispose()
    {
        if (!Server.IsValueCreated || Server.Value is not { } running) return;
        running.Watcher.StandardInput.Close();
        running.Watcher.WaitForExit();
        running.Watcher.Dispose();
    }

    private static Running? Start()
    {
        string? programs = Programs();
        if (programs is null) return null;
        // The server refuses to run as root; Debian has a user for it.
        string[] asUser = Environment.UserName == "root" ? ["runuser", "-u", "postgres", "--"] : [];
        string folder = Run(asUser, "mktemp", "-d", "/tmp/stillwatch-postgres-XXXXXXXX").Trim();
        string data = Path.Combine(folder, "data");
        Run(asUser, Path.Combine(programs, "initdb"), "-D", data, "-U", "postgres", "-A", "trust", "-E", "UTF8", "--locale=C", "--no-sync");
        // What the tests are about is not the disk under this server: without fsync they take half the time.
        Run(asUser, Path.Combine(programs, "pg_ctl"), "-D", data, "-l", Path.Combine(folder, "log"), "-w", "-o", $"-c listen_addresses='' -c unix_socket_directories='{folder}' -c fsync=off -c max_connections=200", "start");
        return new Running(folder, Watch([.. asUser, Path.Combine(programs, "pg_ctl"), "-D", data, "-m", "immediate", "-w", "stop"], folder));
    }

    // Waits for the end of its input, which comes when this process ends, however it ends, and stops the server then.
    private static Process Watch(string[] stop, string folder)
    {
        var start = new ProcessStartInfo("bash") { RedirectStandardInput = true, WorkingDirectory = "/" };
        foreach (string word in (string[])["-c", "exec >/dev/null 2>&1; folder=$1; shift; cat; \"$@\"; rm -rf \"$folder\"", "watch", folder, .. stop]) start.ArgumentList.Add(word);
        return Process.Start(start)!;
    }

    private static string? Programs()
    {
        const string Debian = "/usr/lib/postgresql";
        var folders = Directory.Exists(Debian) ? Directory.GetDirectories(Debian).OrderByDescending(f => f, StringComparer.Ordinal).Select(f => Path.Combine(f, "bin")) : [];
        return folders.Concat((Environment.GetEnvironmentVariable("PATH") ?? "").Split(':')).FirstOrDefault(f => File.Exists(Path.Combine(f, "initdb")) && File.Exists(Path.Combine(f, "pg_ctl")));
    }

    private static string Run(string[] asUser, string program, params string[] arguments)
    {
        string[] words = [.. asUser, program, .. arguments];
        // Files and not pipes: the server inherits what it is started with, and would hold a pipe open for good.
        string output = Path.GetTempFileName();
        try
        {
            var start = new ProcessStartInfo("bash") { WorkingDirectory = "/" };
            foreach (string word in (string[])["-c", "out=$1; shift; exec \"$@\" >\"$out\" 2>&1 </dev/null", "run", output, .. words]) start.ArgumentList.Add(word);
            using var process = Process.Start(start)!;
            process.WaitForExit();
            string said = File.ReadAllText(output);
            return process.ExitCode == 0 ? said : throw new InvalidOperationException($"{string.Join(' ', words)} ended with {process.ExitCode}: {said}");
        }
        finally
        {
            File.Delete(output);
        }
    }

    private sealed record Running(string Folder, Process Watcher);
}
