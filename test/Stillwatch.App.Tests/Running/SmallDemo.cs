using Stillwatch.App.Jobs;
using Stillwatch.App.Terminal;
using Stillwatch.Rehearsal;

namespace Stillwatch.App.Tests.Running;

/// <summary>The demonstration with short nights, made once for all tests that read it.</summary>
public sealed class SmallDemo : IDisposable
{
    public const int NightSeconds = 2 * 3600;

    private readonly Folder folder = new();

    public SmallDemo() => Model = Make(folder["ward"]);

    internal string Path => folder["ward"];

    internal DemoModel Model { get; }

    internal static DemoModel Make(string path)
    {
        using var progress = new ProgressLine(Screen.Plain(TextWriter.Null, TextWriter.Null));
        return DemoJob.Run(DemoWard.Compose(DemoWard.DefaultSeed, NightSeconds), path, progress);
    }

    public void Dispose() => folder.Dispose();
}
