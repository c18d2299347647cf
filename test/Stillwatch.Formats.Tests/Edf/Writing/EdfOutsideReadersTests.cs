using System.Diagnostics;
using System.Text.Json;
using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

/// <summary>
/// Programs that are not ours read what we write: MNE (Debian python3-mne 1.3.0) and BioSig (Debian biosig-tools 2.5.0). The script
/// test/outside/edf_readers.py compares what they find with plain JSON made here from the recordings themselves.
/// </summary>
public sealed class EdfOutsideReadersTests : IDisposable
{
    private const string Python = "/usr/bin/python3";
    private const int PackagesMissing = 3;

    private readonly DirectoryInfo folder = Directory.CreateTempSubdirectory("stillwatch-edf-");

    public void Dispose() => folder.Delete(recursive: true);

    [Fact]
    public void MNE_and_BioSig_read_the_same_values_rates_notes_and_starts_as_were_written()
    {
        foreach (var (name, recording) in Recordings())
        {
            Write(name, new EdfRecordingWriter(), recording);
            Write(name, new BdfRecordingWriter(), recording);
        }

        var (exit, output) = RunScript();
        if (exit == PackagesMissing)
        {
            if (Environment.GetEnvironmentVariable("CI") == "true") Assert.Fail(output);
            Assert.Skip(output);
        }

        Assert.True(exit == 0, output);
        Assert.Contains("8 files, 0 differences", output);
    }

    private static IEnumerable<(string Name, Recording Recording)> Recordings()
    {
        var start = new DateTime(2026, 3, 1, 22, 15, 30);
        Annotation[] notes =
        [
            new(new SampleTime(-1500), Duration.Zero, "connected"),
            new(new SampleTime(2000), new Duration(12_500), "artefact?"),
            new(new SampleTime(61_250), Duration.Zero, "SpO₂ below 90 %", AnnotationOrigin.Event),
            new(new SampleTime(61_250), new Duration(30_000), "SpO2 low", AnnotationOrigin.ReplayedSignal),
        ];

        // A sensor off for ten minutes: no rows at all, so EDF+D; and rows without a number.
        long[] times = [.. Enumerable.Range(0, 120).Select(s => s * 1000L), .. Enumerable.Range(0, 90).Select(s => 720_000L + s * 1000L)];
        var gaps = Written.SpO2(Written.Times(times), [.. times.Select((_, i) => i % 50 == 7 ? (decimal?)null : 98 - i % 13)]);
        yield return ("spo2-with-gaps", Written.Of(gaps) with { Start = new RecordingStart.Local(start), Annotations = notes });

        // A monitor: SpO2 once a second, pleth 125 times, beginning within a second, zone known, the last second not full.
        var spo2 = Written.SpO2([.. Enumerable.Range(0, 300).Select(i => (decimal?)(90 + i % 21 * 0.5m))]);
        var rate = new Channel("PR", ChannelKind.PulseRate, "/min", spo2.Times, ValueColumn.Of(Enumerable.Range(0, 300).Select(i => i == 17 ? (decimal?)null : 60 + i % 90)));
        var pleth = Written.Pleth(SampleRate.Of(125, 1000), Calibration.OfGain(200, 512), [.. Enumerable.Range(0, 37_450).Select(i => (int?)(512 + i * 37 % 401 - 200))]);
        yield return ("spo2-and-pleth", Written.Of(spo2, rate, pleth) with
        {
            Start = new RecordingStart.Zoned(new DateTimeOffset(start.AddMilliseconds(250), TimeSpan.FromHours(2))),
            Annotations = notes,
            SourceAveraging = new SourceAveraging(new Duration(8000)),
        });

        // Counts of 16 bits to their very ends, and a start that nobody knows.
        var wide = Written.Pleth(SampleRate.Of(360, 1000), Calibration.OfRange(-32768, 32767, -5, 5), [.. Enumerable.Range(0, 360 * 20).Select(i => (int?)(i * 7919 % 65_536 - 32_768))]);
        yield return ("full-range", Written.Of(wide));

        // Counts of 24 bits: EDF rounds them.
        var fine = Written.Pleth(SampleRate.Of(256, 1000), Calibration.OfRange(-8_388_608, 8_388_607, -262_144, 262_143), [.. Enumerable.Range(0, 256 * 20).Select(i => (int?)(i * 104_729 % 16_000_000 - 8_000_000))]);
        yield return ("fine", Written.Of(fine) with { Start = new RecordingStart.TimeOfDay(new TimeOnly(3, 4, 5)) });
    }

    private void Write(string name, IRecordingWriter writer, Recording recording)
    {
        using var bytes = new MemoryStream();
        writer.Write(recording, bytes);
        string file = Path.Combine(folder.FullName, name + writer.Extension);
        File.WriteAllBytes(file, bytes.ToArray());
        var plain = PlainEdf.Read(bytes.ToArray());
        var expected = new
        {
            start = recording.Start switch
            {
                RecordingStart.Local local => local.DateTime.ToString("yyyy-MM-ddTHH:mm:ss.ffffff"),
                RecordingStart.Zoned zoned => zoned.DateTime.ToString("yyyy-MM-ddTHH:mm:ss.ffffff"),
                RecordingStart.TimeOfDay ofDay => ofDay.Time.ToString("HH:mm:ss.ffffff"),
                _ => null,
            },
            recordStarts = plain.Onsets.Select(o => o - plain.Onsets[0]),
            recordSeconds = plain.RecordSeconds,
            channels = recording.Channels.Select((c, i) => new
            {
                label = c.Label,
                unit = c.Unit,
                rate = c.Times.Rate?.Hertz ?? 1000.0 / c.Times.Period.Milliseconds,
                halfCount = Math.Abs(plain.Signals[i].PhysicalMaximum - plain.Signals[i].PhysicalMinimum) / (plain.Signals[i].DigitalMaximum - plain.Signals[i].DigitalMinimum) / 2,
                noNumber = ValueOfCode(plain.Signals[i], "no number"),
                noRow = ValueOfCode(plain.Signals[i], "no row"),
                values = Enumerable.Range(0, c.Times.Count).Select(row => Written.ValueAt(c, row)),
                places = Enumerable.Range(0, c.Times.Count).Select(row => c.Times.Rate is null ? c.Times.TimeAt(row).Milliseconds / 1000m : row * c.Times.Rate.Value.Milliseconds / 1000m / c.Times.Rate.Value.Samples),
            }),
            notes = recording.Annotations.Select(a => new
            {
                time = a.Time.Milliseconds / 1000m,
                length = a.Length.Milliseconds / 1000m,
                text = a.Origin switch { AnnotationOrigin.Event => "[event] ", AnnotationOrigin.ReplayedSignal => "[signal] ", _ => "" } + a.Text,
            }),
        };
        File.WriteAllText(file + ".json", JsonSerializer.Serialize(expected));
    }

    private static decimal? ValueOfCode(PlainSignal signal, string meaning) => signal.Code(meaning) is { } code
        ? signal.PhysicalMinimum + (code - signal.DigitalMinimum) * (signal.PhysicalMaximum - signal.PhysicalMinimum) / (signal.DigitalMaximum - signal.DigitalMinimum)
        : null;

    private (int Exit, string Output) RunScript()
    {
        if (!File.Exists(Python)) return (PackagesMissing, $"{Python} is not on this machine.");
        string? root = AppContext.BaseDirectory;
        while (root is not null && !File.Exists(Path.Combine(root, "Stillwatch.slnx"))) root = Path.GetDirectoryName(root);
        var start = new ProcessStartInfo(Python, [Path.Combine(root!, "test", "outside", "edf_readers.py"), folder.FullName]) { RedirectStandardOutput = true };
        using var process = Process.Start(start)!;
        string output = process.StandardOutput.ReadToEnd();
        process.WaitForExit();
        return (process.ExitCode, output);
    }
}
