using System.Buffers.Binary;
using System.Globalization;
using Microsoft.Playwright;
using Stillwatch.Workbench.Tests.Browsing;

namespace Stillwatch.Workbench.Tests;

/// <summary>A night pressed into a minute of sound: what the browser really plays, and the file of it, held against the published ranges.</summary>
public sealed class HearingTests(DemoWorkbench demo)
{
    private const double Faster = 4; // bursts are played so many times faster, and the page says so

    // Pulses a burst, their length and spacing in milliseconds at the bedside: IEC 60601-1-8 (2006 with A1, A2), tables 3 and 4, from
    // secondary copies; spacings as multiples and the lengths of medium and low from memory.
    // pulses | length  | spacing of neighbours
    private const string Ranges = """
        10       | 75–200  | 50–125
        3        | 125–250 | 125–250
        1        | 125–250 | 125–250
        """;

    // Writes down what a page tells the browser to sound, and lets it sound all the same.
    private const string Listen = """
        window.heard = []; window.waves = []; window.silenced = 0;
        const ramps = new WeakMap(), shapes = new WeakMap();
        const ramp = AudioParam.prototype.linearRampToValueAtTime, set = AudioParam.prototype.setValueAtTime;
        const note = (param, value, at) => { if (!ramps.has(param)) ramps.set(param, []); ramps.get(param).push([value, at]); };
        AudioParam.prototype.linearRampToValueAtTime = function (value, at) { note(this, value, at); return ramp.call(this, value, at); };
        AudioParam.prototype.setValueAtTime = function (value, at) { note(this, value, at); return set.call(this, value, at); };
        const connect = AudioNode.prototype.connect, disconnect = AudioNode.prototype.disconnect, start = OscillatorNode.prototype.start;
        AudioNode.prototype.connect = function (to, ...rest) { shapes.set(this, to); return connect.call(this, to, ...rest); };
        AudioNode.prototype.disconnect = function (...rest) { if (this instanceof DynamicsCompressorNode) window.silenced++; return disconnect.apply(this, rest); };
        OscillatorNode.prototype.start = function (at) { window.heard.push([at, this.frequency.value, ...ramps.get(shapes.get(this).gain).flat()]); return start.call(this, at); };
        const wave = BaseAudioContext.prototype.createPeriodicWave;
        BaseAudioContext.prototype.createPeriodicWave = function (real, imag, ...rest) { window.waves.push([...imag]); return wave.call(this, real, imag, ...rest); };
        """;

    [Fact]
    public async Task What_is_played_lies_inside_the_published_ranges_and_the_file_sounds_the_same()
    {
        var page = await MadeAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "▶ Play candidate A" }).ClickAsync();
        await Assertions.Expect(page.GetByText("Playing candidate A:")).ToBeVisibleAsync();
        await Assertions.Expect(page.Locator(".cursor")).ToHaveAttributeAsync("visibility", "visible");
        var bursts = await BurstsAsync(page);
        int[] signals = [.. (await page.Locator("table:has-text('The same in numbers') tr:has-text('candidate A') td.n").AllInnerTextsAsync()).Select(n => int.Parse(n, CultureInfo.InvariantCulture))];
        Assert.Equal(signals[0], signals[1] + signals[2] + signals[3]);
        Assert.True(bursts.Count >= signals[0] && signals[0] > 0, $"{bursts.Count} bursts for {signals[0]} signals");

        var ranges = Ranges.Split('\n').Select(line => line.Split('|', StringSplitOptions.TrimEntries)).ToDictionary(c => int.Parse(c[0], CultureInfo.InvariantCulture), c => (Length: Range(c[1]), Spacing: Range(c[2])));
        Assert.All(bursts, burst =>
        {
            var (length, spacing) = ranges[burst.Pulses.Count];
            Assert.InRange(burst.Hertz, 150, 1000);
            Assert.All(burst.Pulses, p => Assert.InRange((p.End - p.Start) * 1000 * Faster, length.From - 0.01, length.To + 0.01));
            double[] gaps = [.. burst.Pulses.Zip(burst.Pulses.Skip(1), (a, b) => (b.Start - a.End) * 1000 * Faster)];
            if (burst.Pulses.Count != 10)
            {
                Assert.All(gaps, gap => Assert.InRange(gap, spacing.From - 0.01, spacing.To + 0.01));
                return;
            }

            double x = gaps[0], pulse = (burst.Pulses[0].End - burst.Pulses[0].Start) * 1000 * Faster;
            Assert.InRange(x, spacing.From, spacing.To);
            foreach (int narrow in new[] { 0, 1, 3, 5, 6, 8 }) Assert.Equal(x, gaps[narrow], 0.01);
            foreach (int wide in new[] { 2, 7 }) Assert.Equal(2 * x + pulse, gaps[wide], 0.01);
            Assert.InRange(gaps[4], 350, 1300);
        });

        // At least four harmonics between 300 and 4000 Hz, each within 15 dB of the fundamental.
        double[][] waves = await page.EvaluateAsync<double[][]>("window.waves");
        double lowest = bursts.Min(b => b.Hertz), highest = bursts.Max(b => b.Hertz);
        Assert.All(waves, wave => Assert.True(wave.Skip(2).Index().Count(h => h.Item >= Math.Pow(10, -15 / 20.0) && (h.Index + 2) * lowest >= 300 && (h.Index + 2) * highest <= 4000) >= 4));
        await TheFileSoundsAsync(page, bursts);
    }

    [Fact]
    public async Task Stop_is_silence_at_once()
    {
        var page = await MadeAsync();
        await page.GetByRole(AriaRole.Button, new() { Name = "▶ Play the present settings" }).ClickAsync();
        await Assertions.Expect(page.Locator(".cursor")).ToHaveAttributeAsync("visibility", "visible");
        Assert.Equal(0, await page.EvaluateAsync<int>("window.silenced"));
        await page.GetByRole(AriaRole.Button, new() { Name = "■ Stop" }).ClickAsync();
        await Assertions.Expect(page.Locator(".cursor")).ToHaveAttributeAsync("visibility", "hidden");
        await Assertions.Expect(page.GetByText("Playing the present settings:")).ToHaveCountAsync(0);
        Assert.Equal(1, await page.EvaluateAsync<int>("window.silenced"));
    }

    private async Task<IPage> MadeAsync()
    {
        var page = await demo.Browser.NewPageAsync(Screen.Desk);
        await page.AddInitScriptAsync(Listen);
        await page.GotoAsync(demo.Running.Address + "/evidence");
        await page.GetByRole(AriaRole.Button, new() { Name = "Make the sound" }).ClickAsync(new() { Timeout = 60_000 });
        await Assertions.Expect(page.GetByRole(AriaRole.Group, new() { Name = "Listen" })).ToBeVisibleAsync(new() { Timeout = 60_000 });
        return page;
    }

    private sealed record Burst(double At, double Hertz, IReadOnlyList<(double Start, double End)> Pulses);

    private static async Task<List<Burst>> BurstsAsync(IPage page) =>
    [
        .. (await page.EvaluateAsync<double[][]>("window.heard")).Select(h =>
        {
            // Four points a pulse: silent, risen, still loud, silent again.
            var points = h.Skip(2).Chunk(2).Select(p => (Level: p[0], At: p[1])).ToList();
            return new Burst(h[0], h[1], [.. points.Chunk(4).Select(p => p is [{ Level: 0 }, { Level: > 0 }, { Level: > 0 }, { Level: 0 }] ? (p[0].At, p[3].At) : throw new InvalidOperationException("a pulse that does not rise and fall"))]);
        }),
    ];

    /// <summary>The file is loud in the middle of each pulse that is played, and silent away from all of them.</summary>
    private static async Task TheFileSoundsAsync(IPage page, List<Burst> bursts)
    {
        var answer = await page.APIRequest.GetAsync(new Uri(new Uri(page.Url), "/" + await page.Locator("a[href$='.wav']").Last.GetAttributeAsync("href")).ToString());
        Assert.Equal("audio/wav", answer.Headers["content-type"]);
        byte[] wave = await answer.BodyAsync();
        Assert.Equal(("RIFF", "WAVEfmt "), (System.Text.Encoding.ASCII.GetString(wave, 0, 4), System.Text.Encoding.ASCII.GetString(wave, 8, 8)));
        int rate = BinaryPrimitives.ReadInt32LittleEndian(wave.AsSpan(24)), count = (wave.Length - 44) / 2;
        Assert.Equal(60.0, (double)count / rate, 3);
        int LoudnessNear(double seconds) => Enumerable.Range((int)(seconds * rate) - rate / 500, rate / 250).Where(i => i >= 0 && i < count).Max(i => Math.Abs((int)BinaryPrimitives.ReadInt16LittleEndian(wave.AsSpan(44 + 2 * i))));

        var pulses = bursts.SelectMany(b => b.Pulses).OrderBy(p => p.Start).ToList();
        double zero = pulses[0].Start - FirstSound(wave, count) / (double)rate;
        Assert.All(pulses, p => Assert.True(LoudnessNear((p.Start + p.End) / 2 - zero) > 3000, $"silent at {p.Start - zero:0.000} s, where a pulse is played"));
        var silences = pulses.Zip(pulses.Skip(1)).Where(p => p.Second.Start - p.First.End > 0.5 && !pulses.Any(o => o.Start < p.Second.Start && o.End > p.First.End + 0.01)).ToList();
        Assert.NotEmpty(silences);
        Assert.All(silences, s => Assert.Equal(0, LoudnessNear((s.First.End + s.Second.Start) / 2 - zero)));
    }

    private static int FirstSound(byte[] wave, int count) => Enumerable.Range(0, count).First(i => BinaryPrimitives.ReadInt16LittleEndian(wave.AsSpan(44 + 2 * i)) != 0);

    private static (double From, double To) Range(string text) => text.Split('–') is [var from, var to] ? (double.Parse(from, CultureInfo.InvariantCulture), double.Parse(to, CultureInfo.InvariantCulture)) : throw new FormatException(text);
}
