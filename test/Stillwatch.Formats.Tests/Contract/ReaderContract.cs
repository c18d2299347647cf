using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Contract;

/// <summary>
/// What every reader promises, whatever the format. A reader's own tests say that it reads right; these say that it can be trusted with
/// files that nobody has looked at.
/// </summary>
public abstract class ReaderContract
{
    private const int Seed = 20261125;

    protected abstract IRecordingReader Reader { get; }

    /// <summary>Good recordings, small, made in the test; at least one with an SpO2 channel.</summary>
    protected abstract IReadOnlyList<ReaderSample> Samples { get; }

    /// <summary>Checks a reading of damaged files against a plain second reading: each value is as in the bytes, or its absence is listed.</summary>
    protected abstract void Account(ReaderSample damaged, ReadResult result);

    /// <summary>Whether a format can show that its file ends at this byte too early. Text tables cannot, past their header.</summary>
    protected virtual bool ShowsTruncationAt(ReaderSample sample, int length) => true;

    /// <summary>Buffers, whatever the file; then what a channel and a byte may cost.</summary>
    protected virtual long AllocationBound(long bytes, int channels) => 4_000_000 + 200_000L * channels + 400 * bytes;

    [Fact]
    public void It_is_the_reader_chosen_for_its_own_files()
    {
        Assert.All(Samples, sample => Assert.IsType(Reader.GetType(), RecordingReaders.All.First(r => r.Recognises(sample.Bytes.AsSpan(0, Math.Min(4096, sample.Bytes.Length)), sample.FileName))));
    }

    [Fact]
    public void Good_files_are_read_without_a_failure()
    {
        Assert.All(Samples, sample =>
        {
            var result = Read(sample);
            Assert.NotNull(result.Recording);
            Assert.DoesNotContain(result.Issues, i => i.Severity == IssueSeverity.Failure);
            Assert.NotEqual("", result.Format);
            Account(sample, result);
        });
        Assert.Contains(Samples, sample => Read(sample).Recording!.Find(ChannelKind.SpO2) is not null);
    }

    [Theory]
    [InlineData(1)]
    [InlineData(7)]
    [InlineData(1000)]
    public void The_same_bytes_give_the_same_reading_however_the_stream_hands_them_out(int most)
    {
        Assert.All(Samples, sample => Assert.Equal(
            Printed.Whole(Read(sample)),
            Printed.Whole(Reader.Read(new RecordingSource(sample.FileName, new DribblingFolder(sample.Files, most)), new ReadOptions()))));
    }

    [Fact]
    public void What_is_not_wanted_is_not_held_and_what_is_wanted_stays_the_same()
    {
        foreach (var sample in Samples)
        {
            var whole = Read(sample).Recording!;
            foreach (var kind in whole.Channels.Select(c => c.Kind).Distinct())
            {
                var part = Reader.Read(sample.Source, new ReadOptions { Wanted = new HashSet<ChannelKind> { kind } }).Recording!;
                Assert.All(part.Channels, c => Assert.Equal(kind, c.Kind));
                Assert.Equal(whole.Channels.Where(c => c.Kind == kind).Select(Printed.Whole).Order(StringComparer.Ordinal), part.Channels.Select(Printed.Whole).Order(StringComparer.Ordinal));
            }
        }
    }

    [Fact]
    public void A_channel_can_be_named_as_the_SpO2_to_use()
    {
        foreach (var sample in Samples)
        {
            var whole = Read(sample).Recording!;
            foreach (string label in whole.Channels.Where(c => c.Times.Rate is null or { Hertz: <= 1000 }).GroupBy(c => c.Label).Where(g => g.Count() == 1).Select(g => g.Key))
                Assert.Equal(label, Reader.Read(sample.Source, new ReadOptions { Channel = label }).Recording!.Find(ChannelKind.SpO2)!.Label);
        }
    }

    [Fact]
    public void A_channel_that_is_not_there_is_refused_and_those_that_are_there_are_named()
    {
        foreach (var sample in Samples.Where(s => Read(s).Recording!.Channels.Count > 0))
        {
            var error = Assert.Throws<UnreadableFileException>(() => Reader.Read(sample.Source, new ReadOptions { Channel = "no such channel" }));
            CheckWords(error);
            Assert.Contains(Read(sample).Recording!.Channels[0].Label, error.Found, StringComparison.Ordinal);
        }
    }

    [Fact]
    public void An_empty_file_is_refused()
    {
        Assert.All(Samples, sample => CheckWords(Assert.Throws<UnreadableFileException>(() => Read(sample.With(sample.FileName, [])))));
    }

    [Fact]
    public void A_file_cut_off_at_any_boundary_is_refused_or_says_so()
    {
        foreach (var sample in Samples)
        {
            string whole = Printed.Whole(Read(sample));
            var known = Read(sample).Issues.Select(i => (i.Code, i.Severity)).ToHashSet();
            int header = Math.Min(sample.Boundaries.DefaultIfEmpty(0).Max(), sample.Bytes.Length);
            foreach (int length in sample.Boundaries.Concat(Enumerable.Range(0, Math.Min(header, 3000))).Where(b => b < sample.Bytes.Length).Distinct().Order())
            {
                var cut = sample.With(sample.FileName, sample.Bytes[..length]);
                try
                {
                    var result = Read(cut);
                    Account(cut, result);
                    if (Printed.Whole(result) == whole || !ShowsTruncationAt(sample, length)) continue;
                    Assert.True(result.Issues.Any(i => i.Severity != IssueSeverity.Note && !known.Contains((i.Code, i.Severity))), $"{sample.Name} cut off at byte {length} of {sample.Bytes.Length}: read otherwise, and nothing said.");
                }
                catch (UnreadableFileException error)
                {
                    CheckWords(error);
                }
            }
        }
    }

    [Fact]
    public void Damaged_files_are_refused_clearly_or_read_with_everything_accounted_for()
    {
        int count = Environment.GetEnvironmentVariable("STILLWATCH_FULL") == "1" ? 100_000 : 1_000;
        int read = 0;
        for (int i = 0; i < count; i++)
        {
            var random = new Random(Seed + i);
            var damaged = Damage.Of(Samples[random.Next(Samples.Count)], random);
            try
            {
                read += ReadDamaged(damaged) ? 1 : 0;
            }
            catch (Exception e) when (e is not UnreadableFileException)
            {
                Assert.Fail($"Damage {i} (seed {Seed}) to {damaged.Name}: {e}\n{Damage.Show(damaged)}");
            }
        }

        // Otherwise the damage would be too coarse, or too fine, to test anything.
        Assert.InRange(read, count / OneReadAmong, count - 1);
    }

    /// <summary>Of so many damaged files at least one is read after all; more for a format that states everything and is refused when it does not add up.</summary>
    protected virtual int OneReadAmong => 20;

    protected ReadResult Read(ReaderSample sample) => Reader.Read(sample.Source, new ReadOptions());

    private static void CheckWords(UnreadableFileException error) =>
        Assert.All([error.Found, error.Expected, error.Where, error.LikelyCause], words => Assert.NotEqual("", words));

    private bool ReadDamaged(ReaderSample damaged)
    {
        long before = GC.GetAllocatedBytesForCurrentThread();
        ReadResult? result = null;
        try
        {
            result = Read(damaged);
        }
        catch (UnreadableFileException error)
        {
            CheckWords(error);
            return false;
        }
        finally
        {
            long bound = AllocationBound(damaged.Files.Values.Sum(f => (long)f.Length), result?.Recording?.Channels.Count ?? 64);
            Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, bound);
        }

        Assert.InRange(result.Issues.Count, 0, 600);
        Account(damaged, result);
        return result.Recording is not null;
    }
}
