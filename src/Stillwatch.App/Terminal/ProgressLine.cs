using Stillwatch.App.Jobs;

namespace Stillwatch.App.Terminal;

/// <summary>One line on standard error that says how far long work has come; silent unless that is a terminal.</summary>
public sealed class ProgressLine : IWorkProgress, IDisposable
{
    private const int BarWidth = 24;
    private static readonly TimeSpan Between = TimeSpan.FromMilliseconds(100);

    private readonly Screen screen;
    private readonly TimeProvider clock;
    private readonly Lock gate = new();
    private long lastDrawn;
    private int drawnLength;

    public ProgressLine(Screen screen, TimeProvider? clock = null)
    {
        this.screen = screen;
        this.clock = clock ?? TimeProvider.System;
    }

    public void Report(string what, int done, int total)
    {
        if (!screen.ErrorIsTerminal) return;
        lock (gate)
        {
            long now = clock.GetTimestamp();
            bool isLast = total > 0 && done >= total;
            if (lastDrawn != 0 && !isLast && clock.GetElapsedTime(lastDrawn, now) < Between) return;
            lastDrawn = now;
            string line = total > 0 ? $"{Bar(done, total)} {what} {done}/{total}" : $"{what} …";
            if (line.Length >= screen.Width) line = line[..(screen.Width - 1)];
            screen.Error.Write("\r" + line.PadRight(drawnLength));
            screen.Error.Flush();
            drawnLength = line.Length;
        }
    }

    /// <summary>Wipes the line, so that what follows stands alone.</summary>
    public void Dispose()
    {
        lock (gate)
        {
            if (drawnLength > 0) screen.Error.Write("\r" + new string(' ', drawnLength) + "\r");
            drawnLength = 0;
        }
    }

    private static string Bar(int done, int total)
    {
        int full = (int)((long)Math.Clamp(done, 0, total) * BarWidth / total);
        return "[" + new string('#', full) + new string('.', BarWidth - full) + "]";
    }
}
