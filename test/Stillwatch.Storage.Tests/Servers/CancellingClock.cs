namespace Stillwatch.Storage.Tests.Servers;

/// <summary>A clock that cancels something the so-many-th time it is asked: a moment that is the same in every run.</summary>
internal sealed class CancellingClock : TimeProvider
{
    private CancellationTokenSource? cancelling;
    private int left;

    public void CancelAt(int asking, CancellationTokenSource source) => (left, cancelling) = (asking, source);

    public override DateTimeOffset GetUtcNow()
    {
        if (--left == 0) cancelling!.Cancel();
        return TestClock.Start;
    }
}
