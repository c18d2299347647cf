using System.Diagnostics;
using System.Globalization;

namespace Stillwatch.Storage.Tests.Inputs;

/// <summary>A program of its own that moves a store by a backup, so that its memory can be limited.</summary>
internal static class Mover
{
    public const string Command = "move-by-backup";

    /// <summary>All that the program may hold; beyond, it ends.</summary>
    public const long HeapBytes = 24_000_000;

    public static async Task<int> MoveAsync(string source, string backup, string target)
    {
        await using (var from = await WorkbenchStore.OpenAsync(new StorePlace.SqliteFile(source), TimeProvider.System)) await from.BackupAsync(backup, Actor.Local);
        await WorkbenchStore.RestoreAsync(new StorePlace.SqliteFile(target), backup, Actor.Local, TimeProvider.System);
        return 0;
    }

    /// <summary>What it said in its distress; empty: it came through.</summary>
    public static async Task<string> RunInLittleMemoryAsync(string source, string backup, string target)
    {
        var start = new ProcessStartInfo("dotnet") { RedirectStandardError = true };
        start.Environment["DOTNET_GCHeapHardLimit"] = HeapBytes.ToString("X", CultureInfo.InvariantCulture);
        start.Environment["DOTNET_gcServer"] = "0";
        foreach (string argument in new[] { typeof(Mover).Assembly.Location, Command, source, backup, target }) start.ArgumentList.Add(argument);
        using var child = Process.Start(start)!;
        string said = await child.StandardError.ReadToEndAsync(TestContext.Current.CancellationToken);
        await child.WaitForExitAsync(TestContext.Current.CancellationToken);
        return child.ExitCode == 0 ? "" : $"exit code {child.ExitCode}: {said}";
    }
}
