using Stillwatch.App.Workbench.Evidence;
using Xunit;

namespace Stillwatch.App.Tests.Evidence;

/// <summary>A control that is moved fast asks more than can be answered: the last place counts.</summary>
public class LatestOnlyTests
{
    [Fact]
    public async Task Of_what_is_asked_while_one_is_being_answered_only_the_last_is_answered()
    {
        using var firstIsAtWork = new ManualResetEventSlim();
        using var goOn = new ManualResetEventSlim();
        var delivered = new List<(int Question, int Answer)>();
        var latest = new LatestOnly<int, int>(
            question =>
            {
                if (question == 1)
                {
                    firstIsAtWork.Set();
                    goOn.Wait(TestContext.Current.CancellationToken);
                }

                return question * 10;
            },
            (question, answer) =>
            {
                delivered.Add((question, answer));
                return Task.CompletedTask;
            });
        var first = latest.Ask(1);
        firstIsAtWork.Wait(TestContext.Current.CancellationToken);
        var rest = new[] { 2, 3, 4 }.Select(latest.Ask).ToList();
        goOn.Set();
        await Task.WhenAll(rest.Append(first));
        Assert.Equal([(1, 10), (4, 40)], delivered);
        await latest.Ask(5);
        Assert.Equal((5, 50), delivered[^1]);
    }

    [Fact]
    public async Task A_failing_answer_is_told_and_the_next_question_is_answered_all_the_same()
    {
        var delivered = new List<int>();
        var latest = new LatestOnly<int, int>(question => 10 / question, (_, answer) =>
        {
            delivered.Add(answer);
            return Task.CompletedTask;
        });
        await Assert.ThrowsAsync<DivideByZeroException>(() => latest.Ask(0));
        await latest.Ask(5);
        Assert.Equal([2], delivered);
    }
}
