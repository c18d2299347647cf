using Deque.AxeCore.Commons;
using Deque.AxeCore.Playwright;
using Microsoft.Playwright;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>Holds a page to WCAG 2.2 AA as far as axe can tell.</summary>
internal static class Accessible
{
    private static readonly AxeRunOptions Rules = new()
    {
        RunOnly = new RunOnlyOptions { Type = "tag", Values = ["wcag2a", "wcag2aa", "wcag21a", "wcag21aa", "wcag22aa", "best-practice"] },
    };

    public static async Task CheckAsync(IPage page)
    {
        var result = await page.RunAxe(Rules);
        var found = result.Violations.SelectMany(v => v.Nodes.Select(n => $"{v.Id} ({v.Impact}): {v.Help}\n    {n.Html}\n    {string.Join("; ", n.Any.Concat(n.All).Concat(n.None).Select(c => c.Message))}")).ToList();
        Assert.True(found.Count == 0, $"{page.Url}: {found.Count} violations of WCAG 2.2 AA\n" + string.Join('\n', found));
    }
}
