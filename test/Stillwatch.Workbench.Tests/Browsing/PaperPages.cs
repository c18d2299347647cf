using System.Diagnostics;
using System.Text;
using Microsoft.Playwright;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>What a PDF says, as a program that is not ours reads it: pdftotext of poppler-utils.</summary>
internal static class PaperPages
{
    /// <summary>The words of the PDF behind a link of the page, one blank between them.</summary>
    public static async Task<string> WordsAsync(IPage page, string link)
    {
        var answer = await page.APIRequest.GetAsync(new Uri(new Uri(page.Url), "/" + link).ToString());
        Assert.True(answer.Ok, $"{link}: found {answer.Status}, expected the page that was just made");
        Assert.Equal("application/pdf", answer.Headers["content-type"]);
        return string.Join(' ', (await ReadAsync(await answer.BodyAsync())).Split((char[]?)null, StringSplitOptions.RemoveEmptyEntries));
    }

    /// <summary>On how many sheets the browser prints the web page behind a link.</summary>
    public static async Task<int> PrintedAsync(IPage page, string link)
    {
        var answer = await page.APIRequest.GetAsync(new Uri(new Uri(page.Url), "/" + link).ToString());
        Assert.StartsWith("text/html", answer.Headers["content-type"]);
        var printed = await page.Context.NewPageAsync();
        await printed.SetContentAsync(await answer.TextAsync());
        string words = await ReadAsync(await printed.PdfAsync(new() { PreferCSSPageSize = true }));
        await printed.CloseAsync();
        Assert.Contains("licensed clinicians", words, StringComparison.Ordinal);
        return words.Count(c => c == '\f');
    }

    private static async Task<string> ReadAsync(byte[] bytes)
    {
        using var reading = Start();
        if (reading is null)
        {
            Assert.False(Environment.GetEnvironmentVariable("CI") == "true", "found no pdftotext, expected Debian's poppler-utils where CI=true");
            Assert.Skip("needs pdftotext, from Debian's poppler-utils");
        }

        var text = reading!.StandardOutput.ReadToEndAsync(TestContext.Current.CancellationToken);
        await reading.StandardInput.BaseStream.WriteAsync(bytes, TestContext.Current.CancellationToken);
        reading.StandardInput.Close();
        return await text;
    }

    private static Process? Start()
    {
        try
        {
            return Process.Start(new ProcessStartInfo("pdftotext", ["-enc", "UTF-8", "-", "-"]) { RedirectStandardInput = true, RedirectStandardOutput = true, StandardOutputEncoding = Encoding.UTF8 });
        }
        catch (System.ComponentModel.Win32Exception)
        {
            return null;
        }
    }
}
