using Microsoft.Playwright;
using Stillwatch.App.Workbench.Imports;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Storage;
using Stillwatch.Storage.Recordings;
using Stillwatch.Time;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>Three days at a value a second, and hours of pleth at 125 a second: every picture stays small, and is made of what its window needs.</summary>
public sealed class LongRecordingTests(DemoWorkbench demo)
{
    /// <summary>No picture may be larger, however long the recording is; on a wide screen the one that is shifted while a hand moves is three screens wide.</summary>
    private const int MostBytes = 150_000;

    private const int DaySeconds = 24 * 3600;
    private static readonly string[] Moves = ["+", "+", "+", "ArrowRight", "ArrowRight", "ArrowLeft", "End", "+", "+", "+", "+", "-", "Home", "PageDown"];

    [Fact]
    public async Task Three_days_at_a_value_a_second_are_zoomed_and_panned()
    {
        var times = TimeAxis.Even(default, Duration.FromSeconds(1), 3 * DaySeconds);
        Channel[] channels = [Numbers("SpO2", ChannelKind.SpO2, "%", times, SpO2At), Numbers("Pulse", ChannelKind.PulseRate, "/min", times, t => 66 + t / 600 % 12)];
        var seen = await LookAsync("three-days.csv", channels, (recording, stream) =>
        {
            using var writer = new StreamWriter(stream);
            CsvWriter.Write(recording, writer);
        });

        Assert.Empty(seen.Store.Windows); // both are judged, and what is judged is at hand
    }

    [Fact]
    public async Task Hours_of_pleth_are_drawn_from_the_columns_of_the_window_alone()
    {
        const int Hours = 4, PerSecond = 125;
        var seconds = TimeAxis.Even(default, Duration.FromSeconds(1), Hours * 3600);
        var fine = TimeAxis.Even(default, Duration.FromSeconds(1m / PerSecond), Hours * 3600 * PerSecond);
        var counts = new CountColumn.Builder();
        for (int i = 0; i < fine.Count; i++) counts.Add((int)(2000 + 900 * Math.Sin(2 * Math.PI * i / (0.85 * PerSecond)) + 150 * Math.Sin(2 * Math.PI * i / (4.0 * PerSecond))));
        Channel[] channels = [Numbers("SpO2", ChannelKind.SpO2, "%", seconds, SpO2At), new Channel("PLETH", ChannelKind.Pleth, "", fine, counts.Build(Calibration.Counts))];
        var seen = await LookAsync("four-hours.edf", channels, (recording, stream) => new EdfRecordingWriter().Write(recording, stream));

        Assert.NotEmpty(seen.Store.Windows);
        var pleth = Assert.Single(seen.Stored.Channels, c => c.Kind == ChannelKind.Pleth);
        Assert.All(seen.Store.Windows, asked =>
        {
            Assert.Equal(pleth.Index, asked.Channel);
            bool isScale = asked is { Columns: 400 } && asked.From == pleth.Start && asked.To == pleth.End;
            Assert.True(isScale || seen.Asked.Any(p => p.From == asked.From.Milliseconds && p.To == asked.To.Milliseconds && asked.Columns <= p.Width), $"{asked}: no picture has that window");
        });
    }

    /// <summary>A picture that was asked for, and how large the answer was.</summary>
    private sealed record Picture(long From, long To, double Width, int Bytes);

    private sealed record Seen(WatchedStore Store, StoredRecording Stored, IReadOnlyList<Picture> Asked);

    /// <summary>Stores a recording written by our own writer, moves over it in the browser, and watches.</summary>
    private async Task<Seen> LookAsync(string name, Channel[] channels, Action<Recording, Stream> write)
    {
        WatchedStore? store = null;
        await using var workbench = await RunningWorkbench.StartAsync(around: real => store = new WatchedStore(real));
        string path = Path.Combine(workbench.Folder, name);
        await using (var file = File.Create(path)) write(new Recording(name, new RecordingStart.Local(new DateTime(2026, 3, 2, 20, 0, 0, DateTimeKind.Unspecified)), channels, SourceAveraging.Unknown, []), file);
        await new ImportService(workbench.Store).StoreAsync(new ImportRequest(path, new ReadingAnswers().Choices(), RecordingDescription.Nothing, null), Actor.Local, null, TestContext.Current.CancellationToken);
        var stored = Assert.Single(await workbench.Store.Recordings.FindAsync(new RecordingFilter(), TestContext.Current.CancellationToken));

        var answers = new List<IResponse>();
        var page = await demo.Browser.NewPageAsync(Screen.Desk);
        page.Response += (_, answer) =>
        {
            if (answer.Url.Contains("/figures/strip/", StringComparison.Ordinal)) answers.Add(answer);
        };
        await page.GotoAsync($"{workbench.Address}/recordings/{stored.Id}");
        var words = page.Locator(".window.number");
        await Assertions.Expect(words).ToContainTextAsync(" h", new() { Timeout = 60_000 });
        await page.Locator(".strip-detail").FocusAsync();
        foreach (string key in Moves)
        {
            string before = await words.InnerTextAsync();
            await page.Keyboard.PressAsync(key);
            await Assertions.Expect(words).Not.ToHaveTextAsync(before);
        }

        await page.GetByRole(AriaRole.Button, new() { Name = "All", Exact = true }).ClickAsync();
        await Assertions.Expect(words).ToContainTextAsync(channels[0].Times.Count == 3 * DaySeconds ? "72 h" : "4 h");
        await page.WaitForLoadStateAsync(LoadState.NetworkIdle);
        Assert.Equal(1, store!.Opened);
        var asked = new List<Picture>();
        foreach (var answer in answers.ToList()) asked.Add(Of(answer.Url, (await answer.BodyAsync()).Length, stored));
        Assert.All(asked, p => Assert.True(p.Bytes <= MostBytes, $"{p}: expected at most {MostBytes} bytes"));
        Assert.True(asked.Count > Moves.Length, $"{asked.Count} pictures for {Moves.Length} moves");
        await page.Context.CloseAsync();
        return new Seen(store, stored, asked);
    }

    private static Picture Of(string url, int bytes, StoredRecording stored)
    {
        var query = new Uri(url).Query.TrimStart('?').Split('&').Select(p => p.Split('=')).ToDictionary(p => p[0], p => p[1]);
        long Number(string key, long otherwise) => query.TryGetValue(key, out string? text) ? long.Parse(text, System.Globalization.CultureInfo.InvariantCulture) : otherwise;
        return new Picture(Number("from", stored.Span.Start.Milliseconds), Number("to", stored.Span.End.Milliseconds), Number("width", 0), bytes);
    }

    private static Channel Numbers(string label, ChannelKind kind, string unit, TimeAxis times, Func<int, int> at)
    {
        var values = new ValueColumn.Builder();
        for (int i = 0; i < times.Count; i++) values.Add(at(i) * 1_000_000);
        return new Channel(label, kind, unit, times, values.Build());
    }

    // Twelve dips an hour to 86 %, each of 20 s, and a long deep one every six hours.
    private static int SpO2At(int second) => second % 21_600 is >= 7200 and < 7320 ? 78 : second % 300 is >= 100 and < 120 ? 86 : 94 + second / 60 % 3;
}
