namespace Stillwatch.App.Workbench.Evidence;

/// <summary>Answers the last question asked: while one is being answered, of all that come meanwhile only the last is kept.</summary>
/// <param name="answer">Run off the caller's thread.</param>
/// <param name="deliver">Given each answer, in the order of the questions; called on a thread of the pool.</param>
internal sealed class LatestOnly<TQuestion, TAnswer>(Func<TQuestion, TAnswer> answer, Func<TQuestion, TAnswer, Task> deliver)
{
    private readonly Lock door = new();
    private TQuestion? waiting;
    private bool isWaiting;
    private Task running = Task.CompletedTask;

    /// <summary>Done when nothing waits any more; fails as the first failing answer did.</summary>
    public Task Ask(TQuestion question)
    {
        lock (door)
        {
            waiting = question;
            isWaiting = true;
            if (running.IsCompleted) running = Task.Run(Work);
            return running;
        }
    }

    private async Task Work()
    {
        while (Take() is (true, { } question)) await deliver(question, answer(question));
    }

    private (bool IsOne, TQuestion? Question) Take()
    {
        lock (door)
        {
            var taken = (isWaiting, waiting);
            (isWaiting, waiting) = (false, default);
            if (!taken.isWaiting) running = Task.CompletedTask;
            return taken;
        }
    }
}
