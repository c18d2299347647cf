using Stillwatch.App.Commands;
using Stillwatch.App.Jobs;
using Stillwatch.Storage;

namespace Stillwatch.App.Workbench.Layout;

/// <summary>Long work of one page: off its thread, with progress in words, ended when something newer starts or the page goes; what goes wrong becomes words.</summary>
/// <param name="changed">Called when progress or trouble changed, on any thread.</param>
public sealed class PageWork(Func<Task> changed) : IWorkProgress, IDisposable
{
    private const int BetweenMilliseconds = 80; // faster than this nobody reads

    private CancellationTokenSource running = new();
    private long lastTold;

    public bool IsRunning { get; private set; }

    /// <summary>"replaying 3 of 24"; empty when nothing runs.</summary>
    public string Words { get; private set; } = "";

    /// <summary>0–1; null where it is not known.</summary>
    public double? Share { get; private set; }

    public Trouble? Trouble { get; private set; }

    /// <summary>Runs work whose result is delivered on the page's thread, unless something newer was started meanwhile.</summary>
    public async Task RunAsync<T>(Func<CancellationToken, Task<T>> work, Action<T> deliver)
    {
        await running.CancelAsync();
        running.Dispose();
        var mine = running = new CancellationTokenSource();
        (IsRunning, Trouble, Words, Share) = (true, null, "starting", null);
        await changed();
        try
        {
            var token = mine.Token;
            var result = await Task.Run(() => work(token), token);
            if (mine == running) deliver(result);
        }
        catch (OperationCanceledException)
        {
            return;
        }
        catch (StopException e) when (mine == running)
        {
            Trouble = e.Trouble;
        }
        catch (StoreException e) when (mine == running)
        {
            Trouble = Of(e);
        }
        finally
        {
            if (mine == running) (IsRunning, Words) = (false, "");
        }

        await changed();
    }

    public static Trouble Of(StoreException e) => new("the library could not answer", e.Found, e.Expected, e.Where, e.LikelyCause);

    public void Report(string what, int done, int total)
    {
        Words = total > 0 ? $"{what}: {done} of {total}" : what;
        Share = total > 0 ? (double)done / total : null;
        long now = Environment.TickCount64;
        if (now - Interlocked.Read(ref lastTold) < BetweenMilliseconds) return;
        Interlocked.Exchange(ref lastTold, now);
        _ = changed();
    }

    public void Dispose()
    {
        running.Cancel();
        running.Dispose();
    }
}
