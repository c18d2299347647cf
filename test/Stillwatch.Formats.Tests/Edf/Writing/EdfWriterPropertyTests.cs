using System.Globalization;
using CsCheck;
using Stillwatch.Formats.Edf.Writing;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Tests.Edf.Writing;

public class EdfWriterPropertyTests
{
    private static readonly long Draws = DrawnRecordings.Draws(often: 250);

    [Fact]
    public void What_is_written_as_EDF_a_plain_decoder_reads_the_same() => CompareMany(new EdfRecordingWriter());

    [Fact]
    public void What_is_written_as_BDF_a_plain_decoder_reads_the_same() => CompareMany(new BdfRecordingWriter());

    private static void CompareMany(IRecordingWriter writer)
    {
        int written = 0;
        DrawnRecordings.Any.Sample(r =>
        {
            if (Compare(r, writer)) Interlocked.Increment(ref written);
        }, iter: Draws, print: DrawnRecordings.Print);
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
        foreach (var (mark, origin) in new[] { ("[source] ", AnnotationOrigin.Source), ("[event] ", AnnotationOrigin.Event), ("[signal] ", AnnotationOrigin.ReplayedSignal), ("[mark] ", AnnotationOrigin.ReviewMark), ("[derived] ", AnnotationOrigin.Derived) })
        {
            if (text.StartsWith(mark, StringComparison.Ordinal)) return (origin, text[mark.Length..]);
        }

        return (AnnotationOrigin.Source, text);
    }
}
