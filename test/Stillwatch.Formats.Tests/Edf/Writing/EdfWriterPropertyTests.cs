using System.Globalization;
using CsCheck;
using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

public class EdfWriterPropertyTests
{
    private static readonly long Draws = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 20_000 : 250;

    private static readonly Gen<RecordingStart> StartGen = Gen.OneOf(
        Gen.Const<RecordingStart>(new RecordingStart.Unknown()),
        Gen.Long[0, 863_999_999_999].Select(ticks => (RecordingStart)new RecordingStart.TimeOfDay(new TimeOnly(ticks))),
        Gen.Long[0, 4_000_000_000_000].Select(ms => (RecordingStart)new RecordingStart.Local(new DateTime(1970, 1, 1).AddMilliseconds(ms))),
        Gen.Select(Gen.Long[0, 4_000_000_000_000], Gen.Int[-14 * 4, 14 * 4]).Select((ms, quarters) =>
            (RecordingStart)new RecordingStart.Zoned(new DateTimeOffset(new DateTime(1970, 1, 1).AddMilliseconds(ms), TimeSpan.FromMinutes(quarters * 15)))));

    private static readonly Gen<TimeAxis> AxisGen = Gen.OneOf(
        from period in OneOf(1000L, 1000L, 500L, 250L, 8L, 40L, 2000L, 60_000L)
        from shift in OneOf(0, 0, 0, 1, 7)
        from count in Gen.Int[0, period > 1000 ? 12 : 300]
        select TimeAxis.Even(new SampleTime(shift * period), new Duration(period), count),
        from rate in OneOf(SampleRate.Of(128, 1000), SampleRate.Of(360, 1000), SampleRate.Of(30, 1000), SampleRate.Of(5, 3000), SampleRate.Of(2000, 1000))
        from count in Gen.Int[1, 900]
        select TimeAxis.Even(default, rate, count),
        from unit in OneOf(1000L, 500L, 100L)
        from steps in Gen.Frequency((8, Gen.Int[1, 2]), (1, Gen.Int[3, 5000])).Array[0, 200]
        from declared in Gen.Bool
        select Uneven(unit, steps, declared));

    private static readonly Gen<Func<int, int>> MicroGen = Gen.OneOf(
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => (60 + Mix(seed, row) % 41) * 1_000_000)),
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => (-500 + Mix(seed, row) % 2500) * 100_000)),
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => 1_234_567 + Mix(seed, row) % 6000)),
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => Mix(seed, row) - 1_000_000_000)),
        // As read from another converter: 0 to 100 over 16 bits.
        Gen.Int[0, 1_000_000].Select(seed => (Func<int, int>)(row => Calibration.OfRange(-32768, 32767, 0, 100).MicroOf(Mix(seed, row) % 65_536 - 32_768)!.Value)));

    private static readonly Gen<(Calibration Line, int Low, int High)> ConverterGen = OneOf(
        (Calibration.OfRange(-32768, 32767, -3276.8m, 3276.7m), -32768, 32767),
        (Calibration.OfRange(-2048, 2047, 5.5m, -5.5m), -2048, 2047),
        (Calibration.OfGain(200, 1024), 0, 2047),
        (Calibration.OfGain(204.8m, 0), -2048, 2047),
        (Calibration.OfGain(333.33m, 12), -500, 500),
        (Calibration.OfRange(-8388608, 8388607, -262144, 262143), -8_388_608, 8_388_607));

    private static readonly Gen<Channel> ChannelGen = Gen.OneOf(
        from axis in AxisGen
        from micro in MicroGen
        from gaps in Gen.Int[0, 3]
        from name in OneOf(("SpO2", ChannelKind.SpO2, "%"), ("PR", ChannelKind.PulseRate, "/min"), ("a label that is far too long µ", ChannelKind.Other, "µV"))
        where axis.Rate is not { IsOnePerMillisecondAtMost: false }
        select new Channel(name.Item1, name.Item2, name.Item3, axis, Column(axis.Count, row => gaps > 0 && Mix(gaps, row) % 10 < gaps ? ValueColumn.Missing : micro(row))),
        from axis in AxisGen
        from converter in ConverterGen
        from seed in Gen.Int[0, 1_000_000]
        from gaps in Gen.Int[0, 1]
        select new Channel("Pleth", ChannelKind.Pleth, "NU", axis, CountColumn.Of(converter.Line, Enumerable.Range(0, axis.Count)
            .Select(row => gaps > 0 && Mix(gaps, row) % 10 == 0 ? (int?)null : converter.Low + Mix(seed, row) % (converter.High - converter.Low + 1)))));

    private static readonly Gen<Annotation> NoteGen =
        from time in Gen.Long[-5_000, 400_000]
        from length in Gen.OneOf(Gen.Const(0L), Gen.Long[1, 90_000])
        from text in OneOf("artefact?", "", "[event] said the monitor", "SpO₂ < 90 %, été 🌙", "a\nb\tc", "[source] [mark] x")
        from origin in Gen.Enum<AnnotationOrigin>()
        select new Annotation(new SampleTime(time), new Duration(length), text, origin);

    private static readonly Gen<Recording> RecordingGen =
        from start in StartGen
        from channels in ChannelGen.List[0, 3]
        from notes in NoteGen.List[0, 12]
        select new Recording("test", start, channels, SourceAveraging.Unknown, [.. notes.OrderBy(n => n.Time)]);

    [Fact]
    public void What_is_written_as_EDF_a_plain_decoder_reads_the_same() => CompareMany(new EdfRecordingWriter());

    [Fact]
    public void What_is_written_as_BDF_a_plain_decoder_reads_the_same() => CompareMany(new BdfRecordingWriter());

    private static void CompareMany(IRecordingWriter writer)
    {
        int written = 0;
        RecordingGen.Sample(r =>
        {
            if (Compare(r, writer)) Interlocked.Increment(ref written);
        }, iter: Draws, print: Print);
        Assert.True(written > Draws / 2, $"only {written} of {Draws} could be written");
    }

    // False: the writer said that it cannot.
    private static bool Compare(Recording recording, IRecordingWriter writer)
    {
        PlainEdf file;
        IReadOnlyList<ReadIssue> issues;
        try
        {
            (file, issues) = Written.As(writer, recording);
        }
        catch (UnwritableRecordingException e)
        {
            // Rates and beginnings that no data record of sensible size holds together.
            Assert.Contains("JSON", e.WhatHelps);
            return false;
        }

        Assert.Equal("X X X X", file.Patient);
        Assert.Equal(recording.Channels.Count + 1, file.Signals.Count);
        Assert.Equal(recording.Start, StartOf(file));
        Assert.Equal(file.Signals.Count, file.Signals.Select(s => s.Label).Distinct().Count());
        CompareNotes(recording, file);
        for (int c = 0; c < recording.Channels.Count; c++) CompareChannel(recording.Channels[c], file, c, issues);
        CompareRecords(file);
        return true;
    }

    private static void CompareChannel(Channel channel, PlainEdf file, int index, IReadOnlyList<ReadIssue> issues)
    {
        var rows = file.Rows(index).ToList();
        Assert.Equal(channel.Times.Count, rows.Count);
        var signal = file.Signals[index];
        decimal step = Math.Abs((signal.PhysicalMaximum - signal.PhysicalMinimum) / (signal.DigitalMaximum - signal.DigitalMinimum));
        bool isListed = issues.Any(i => i.Code == WriteIssueCodes.Rounded && i.Place.Contains(channel.Label, StringComparison.Ordinal));
        for (int row = 0; row < rows.Count; row++)
        {
            Assert.Equal(channel.Times.TimeAt(row).Milliseconds, rows[row].Milliseconds);
            var value = Written.ValueAt(channel, row);
            Assert.Equal(value is null, rows[row].Value is null);
            if (value is null) continue;
            decimal error = Math.Abs(rows[row].Value!.Value - value.Value);
            // Exact is to the millionth for what the rules judge, and to the last digit of a decimal for a waveform's counts.
            if (isListed) Assert.True(error <= step * 0.500_001m, $"error {error} beyond half a count, {step}");
            else if (channel.Counts is not null) Assert.True(error < 1e-18m, $"error {error}");
            else Assert.Equal(value.Value, Math.Round(rows[row].Value!.Value, 6, MidpointRounding.AwayFromZero));
        }

        long period = signal.Transducer.Split("; ").FirstOrDefault(p => p.StartsWith("period ", StringComparison.Ordinal)) is { } said
            ? long.Parse(said.Split(' ')[1], CultureInfo.InvariantCulture)
            : Math.Max(1, (long)Math.Floor(file.RecordSeconds * 1000 / signal.PerRecord + 0.5m));
        Assert.Equal(channel.Times.Period.Milliseconds, period);
    }

    private static void CompareNotes(Recording recording, PlainEdf file)
    {
        Assert.Equal(recording.Annotations.Count, file.Notes.Count);
        foreach (var (note, found) in recording.Annotations.Zip(file.Notes))
        {
            // The origin of the times is the first data record.
            Assert.Equal(note.Time.Milliseconds / 1000m, found.Onset - file.Onsets[0]);
            Assert.Equal(note.Length == Duration.Zero ? null : note.Length.Milliseconds / 1000m, found.Duration);
            Assert.Equal((note.Origin, note.Text), Unmarked(found.Text));
        }
    }

    // Records follow each other without overlap; the reserved field says whether without gaps too; each but the first holds a row.
    private static void CompareRecords(PlainEdf file)
    {
        var steps = file.Onsets.Zip(file.Onsets.Skip(1), (a, b) => b - a).ToList();
        Assert.All(steps, s => Assert.True(s >= file.RecordSeconds));
        Assert.Equal(steps.TrueForAll(s => s == file.RecordSeconds) ? "+C" : "+D", file.Reserved[3..]);
        Assert.InRange(file.Onsets[0], 0m, 0.9999999m);
        for (int r = 1; r < file.RecordCount; r++)
            Assert.Contains(file.Signals, s => !s.IsAnnotations && s.Counts.Skip(r * s.PerRecord).Take(s.PerRecord).Any(c => c != s.Code("no row")));
    }

    private static RecordingStart StartOf(PlainEdf file)
    {
        string[] words = file.Recording.Split(' ');
        var time = TimeOnly.ParseExact(file.Time, "HH.mm.ss", CultureInfo.InvariantCulture).ToTimeSpan() + TimeSpan.FromTicks((long)(file.Onsets[0] * TimeSpan.TicksPerSecond));
        if (words.Contains("start_unknown")) return new RecordingStart.Unknown();
        if (words[1] == "X") return new RecordingStart.TimeOfDay(TimeOnly.FromTimeSpan(time));
        var date = DateTime.ParseExact(words[1], "dd-MMM-yyyy", CultureInfo.InvariantCulture);
        // EDF+ specification 2.1.3.2: 85 to 99 means 19yy, 00 to 84 means 20yy, and "yy" leaves it to the recording field.
        if (date.Year is >= 1985 and <= 2084) Assert.Equal(date.ToString("dd.MM.yy", CultureInfo.InvariantCulture), file.Date);
        else Assert.EndsWith(".yy", file.Date);
        return words.FirstOrDefault(w => w.StartsWith("utc_offset_", StringComparison.Ordinal)) is { } offset
            ? new RecordingStart.Zoned(DateTimeOffset.ParseExact($"{date + time:yyyy-MM-ddTHH:mm:ss.fffffff}{offset["utc_offset_".Length..]}", "yyyy-MM-ddTHH:mm:ss.fffffffzzz", CultureInfo.InvariantCulture))
            : new RecordingStart.Local(date + time);
    }

    private static (AnnotationOrigin Origin, string Text) Unmarked(string text)
    {
        foreach (var (mark, origin) in new[] { ("[source] ", AnnotationOrigin.Source), ("[event] ", AnnotationOrigin.Event), ("[signal] ", AnnotationOrigin.ReplayedSignal), ("[mark] ", AnnotationOrigin.ReviewMark) })
        {
            if (text.StartsWith(mark, StringComparison.Ordinal)) return (origin, text[mark.Length..]);
        }

        return (AnnotationOrigin.Source, text);
    }

    private static Gen<T> OneOf<T>(params T[] all) => Gen.Int[0, all.Length - 1].Select(i => all[i]);

    private static TimeAxis Uneven(long unit, int[] steps, bool isDeclared)
    {
        var builder = new TimeAxis.Builder();
        long time = 0;
        builder.Add(time);
        foreach (int step in steps) builder.Add(time += step * unit);
        return builder.Build(isDeclared ? new Duration(unit) : null);
    }

    private static ValueColumn Column(int count, Func<int, int> micro)
    {
        var builder = new ValueColumn.Builder();
        for (int row = 0; row < count; row++) builder.Add(micro(row));
        return builder.Build();
    }

    // A number from 0 to two thousand million that looks drawn, from where it stands alone.
    private static int Mix(int seed, int row)
    {
        unchecked
        {
            uint x = (uint)(seed * 73_856_093) ^ (uint)(row * 19_349_663);
            x = (x ^ (x >> 15)) * 2_246_822_519;
            x = (x ^ (x >> 13)) * 3_266_489_917;
            return (int)((x ^ (x >> 16)) % 2_000_000_000);
        }
    }

    private static string Print(Recording recording) => $"{recording.Start}; " + string.Join("; ", recording.Channels.Select(c =>
        $"{c.Label} {c.Times.Count} rows P {c.Times.Period.Milliseconds} rate {c.Times.Rate} from {(c.Times.Count > 0 ? c.Times.First.Milliseconds : 0)}, {string.Join(" ", Enumerable.Range(0, Math.Min(5, c.Times.Count)).Select(i => Written.ValueAt(c, i)))}")) +
        $"; {recording.Annotations.Count} notes";
}
