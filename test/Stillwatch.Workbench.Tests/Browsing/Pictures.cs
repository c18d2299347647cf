using Microsoft.Playwright;
using SkiaSharp;

namespace Stillwatch.Workbench.Tests.Browsing;

/// <summary>
/// Small grey pictures of pages, kept beside the tests: far too coarse for the edges of letters, fine enough to tell a page that lost a part,
/// lies differently or came out empty. STILLWATCH_WRITE_PICTURES=1 makes them anew; somebody then looks at them before they are kept.
/// </summary>
internal static class Pictures
{
    /// <summary>Mean difference over the whole picture above which a page does not look as it did, of 255.</summary>
    public const double MostMean = 4;

    /// <summary>The same over the worst part of the picture.</summary>
    public const double MostPart = 32;

    private const int Width = 160;
    private const int Part = 20; // pixels of the small picture: an eighth of its width

    // What is another at every run: clock times, hashes, how long something took.
    private const string Restless = "td:has-text(':'), td.mono, .live p.small, [data-restless]";

    public static bool AreWritten => Environment.GetEnvironmentVariable("STILLWATCH_WRITE_PICTURES") == "1";

    public static async Task CheckAsync(IPage page, string name)
    {
        byte[] shot = await page.ScreenshotAsync(new() { Animations = ScreenshotAnimations.Disabled, Caret = ScreenshotCaret.Hide, Mask = [page.Locator(Restless)], MaskColor = "#808080" });
        using var seen = Small(shot);
        string path = PathOf(name);
        if (AreWritten)
        {
            Directory.CreateDirectory(Path.GetDirectoryName(path)!);
            using var file = File.Create(path);
            seen.Encode(file, SKEncodedImageFormat.Png, 100);
            return;
        }

        Assert.True(File.Exists(path), $"{name}: no picture is kept; STILLWATCH_WRITE_PICTURES=1 makes one");
        using var kept = Kept(name);
        var (mean, part, where) = Difference(kept, seen);
        Assert.True(mean <= MostMean && part <= MostPart, $"{name} does not look as it did: {mean:0.0} of 255 over all (at most {MostMean}), {part:0.0} {where} (at most {MostPart}). Look at the page; if it is meant so, STILLWATCH_WRITE_PICTURES=1 keeps it.");
    }

    public static SKBitmap Kept(string name) => SKBitmap.Decode(PathOf(name)).Copy(SKColorType.Gray8);

    /// <summary>Mean absolute difference over all and over the worst part; pictures of different sizes are as different as can be.</summary>
    public static (double Mean, double Part, string Where) Difference(SKBitmap one, SKBitmap other)
    {
        if (one.Width != other.Width || one.Height != other.Height) return (255, 255, $"in size: {other.Width}×{other.Height} instead of {one.Width}×{one.Height}");
        byte[] a = one.Bytes, b = other.Bytes;
        var parts = new Dictionary<(int Across, int Down), (long Sum, int Count)>();
        for (int y = 0; y < one.Height; y++)
        {
            for (int x = 0; x < one.Width; x++)
            {
                var key = (x / Part, y / Part);
                var (sum, count) = parts.GetValueOrDefault(key);
                parts[key] = (sum + Math.Abs(a[y * one.RowBytes + x] - b[y * other.RowBytes + x]), count + 1);
            }
        }

        var worst = parts.MaxBy(p => (double)p.Value.Sum / p.Value.Count);
        return ((double)parts.Values.Sum(p => p.Sum) / parts.Values.Sum(p => p.Count), (double)worst.Value.Sum / worst.Value.Count, $"at ({worst.Key.Across * Part}, {worst.Key.Down * Part}) of {one.Width}×{one.Height}");
    }

    // The compiler's own word on where a source lies is no use in a deterministic build (it is mapped to /_/): look upwards from the assembly.
    private static string PathOf(string name)
    {
        for (var folder = new DirectoryInfo(AppContext.BaseDirectory); folder is not null; folder = folder.Parent)
        {
            if (File.Exists(Path.Combine(folder.FullName, "Stillwatch.slnx"))) return Path.Combine(folder.FullName, "test", "Stillwatch.Workbench.Tests", "Pictures", name + ".png");
        }

        throw new InvalidOperationException($"Found no Stillwatch.slnx above {AppContext.BaseDirectory}; expected the tests to lie in a checkout.");
    }

    private static SKBitmap Small(byte[] png)
    {
        using var whole = SKBitmap.Decode(png);
        using var small = whole.Resize(new SKImageInfo(Width, whole.Height * Width / whole.Width), new SKSamplingOptions(SKFilterMode.Linear, SKMipmapMode.Linear));
        return small.Copy(SKColorType.Gray8);
    }
}
