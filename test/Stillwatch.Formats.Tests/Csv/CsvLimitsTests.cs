using System.IO.Compression;
using System.Text;
using Stillwatch.Formats.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Csv;

/// <summary>Hostile and broken files end in a clear error or in listed issues, never in growing memory.</summary>
public class CsvLimitsTests
{
    [Fact]
    public void An_empty_file_is_refused()
    {
        Assert.Equal("an empty file", Assert.Throws<UnreadableFileException>(() => Table.Read("")).Found);
    }

    [Theory]
    [InlineData("\n\n\n")]
    [InlineData(" ")]
    [InlineData("\uFEFF")]
    public void A_blank_file_is_refused(string text)
    {
        Assert.Equal("a table of rows with times", Assert.Throws<UnreadableFileException>(() => Table.Read(text)).Expected);
    }

    [Fact]
    public void A_NUL_is_refused_with_its_line()
    {
        var error = Assert.Throws<UnreadableFileException>(() => Table.Read("time_s,SpO2\n0,97\n1,\0\n"));

        Assert.Equal("test.csv, near line 3", error.Where);
        Assert.Contains("UTF-16 without a byte-order mark", error.LikelyCause, StringComparison.Ordinal);
    }

    [Fact]
    public void A_compressed_file_is_refused_as_what_it_looks_like()
    {
        using var packed = new MemoryStream();
        using (var zip = new GZipStream(packed, CompressionLevel.Fastest, leaveOpen: true)) zip.Write(Encoding.ASCII.GetBytes("time_s,SpO2\n0,97\n1,96\n"));

        Assert.Contains("compressed", Assert.Throws<UnreadableFileException>(() => Table.Read(packed.ToArray())).Found, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("time,spo2\n", "", "test.csv, line 1")]
    [InlineData("# an export\nTime,SpO2,Pulse\ns,%,/min\n\n", "", "test.csv, line 2")]
    [InlineData("time,spo2\n", "time=none", "test.csv, line 1")]
    [InlineData("time,spo2\n", "time=time", "test.csv, line 1")]
    public void A_header_without_rows_is_said_to_have_none(string text, string map, string where)
    {
        var error = Assert.Throws<UnreadableFileException>(() => Table.Read(text, map.Length > 0 ? Table.Map(map) : null));

        Assert.Equal("a header and no row of values", error.Found);
        Assert.Equal(where, error.Where);
    }

    [Fact]
    public void A_header_above_a_line_that_is_longer_than_what_is_looked_at_first_has_no_row_to_go_by()
    {
        var error = Assert.Throws<UnreadableFileException>(() => Table.Read($"time,spo2\n{new string('9', 400_000)}\n1,97\n"));

        Assert.StartsWith("a header and no row of values", error.Found, StringComparison.Ordinal);
        Assert.Contains("line ends were lost", error.LikelyCause, StringComparison.Ordinal);
    }

    [Theory]
    [InlineData("PK\u0003\u0004\u0014\u0000\u0006\u0000xl/workbook.xml")]
    [InlineData("PK\u0003\u0004 and no NUL at all,97\n")]
    [InlineData("PK\u0005\u0006")]
    public void A_workbook_is_called_by_its_name_and_what_to_do_is_said(string text)
    {
        var error = Assert.Throws<UnreadableFileException>(() => Table.Read(text));

        Assert.StartsWith("a zip file, as a spreadsheet workbook is", error.Found, StringComparison.Ordinal);
        Assert.Contains("save its sheet as CSV", error.LikelyCause, StringComparison.Ordinal);
    }

    [Fact]
    public void A_header_may_begin_with_the_letters_of_a_zip_file()
    {
        Assert.Equal("0 1", Table.Recording("PK,time_s,SpO2\n1,0,97\n1,1,97\n").Seconds());
    }

    [Fact]
    public void A_line_without_end_is_refused_long_before_it_is_read_to_its_end()
    {
        var endless = new Repeating("time_s,SpO2\n0,97\n1,", "9");
        var error = Assert.Throws<UnreadableFileException>(() => CsvReader.Read(endless, "endless.csv", new CsvReadOptions { LineLengthLimit = 100_000 }));

        Assert.Contains("more than 100000 characters", error.Found, StringComparison.Ordinal);
        Assert.InRange(endless.BytesGiven, 1, 1_000_000);
    }

    [Theory]
    [InlineData(80, true)]
    [InlineData(81, false)]
    public void The_line_length_limit_is_exact(int length, bool isRead)
    {
        var options = new CsvReadOptions { LineLengthLimit = 80 };
        string text = $"time_s,SpO2\n0,97\n1,{new string('9', length - 2)}\n2,96\n";
        // Beyond the part that is looked at first, too.
        string late = $"time_s,SpO2\n{string.Concat(Enumerable.Range(0, 40_000).Select(i => $"{i},97\n"))}90000,{new string('9', length - 6)}\n";

        foreach (string file in new[] { text, late })
        {
            if (isRead) Table.Read(file, options);
            else Assert.Throws<UnreadableFileException>(() => Table.Read(file, options));
        }
    }

    [Fact]
    public void Too_many_columns_are_refused()
    {
        string header = string.Join(',', Enumerable.Range(0, 5000).Select(i => $"c{i}"));

        Assert.Contains("5000 columns", Assert.Throws<UnreadableFileException>(() => Table.Read($"time_s,{header[3..]}\n")).Found, StringComparison.Ordinal);
    }

    [Fact]
    public void Channels_beyond_the_limit_are_listed_and_the_asked_for_one_is_kept()
    {
        string header = string.Join(',', Enumerable.Range(1, 100).Select(i => $"SpO2 {i}"));
        string row = string.Join(',', Enumerable.Repeat("97", 100));
        var result = Table.Read($"time_s,{header}\n0,{row}\n1,{row}\n", new CsvReadOptions { Channel = "SpO2 100" });

        Assert.Equal(64, result.Recording!.Channels.Count);
        Assert.Equal("SpO2 100", result.Recording!.Find(ChannelKind.SpO2)!.Label);
        Assert.Equal(36, result.Count("channel.too-many"));
    }

    [Fact]
    public void A_file_that_is_odd_in_a_thousand_ways_gives_a_bounded_list_with_complete_counts()
    {
        var text = new StringBuilder("time_s,SpO2\n");
        for (int i = 0; i < 5_000; i++) text.Append($"{i},code {i}\n");
        var result = Table.Read(text.ToString());

        Assert.InRange(result.Issues.Count, 1, 30);
        Assert.Equal(5_000, result.Count("value.text"));
    }

    [Fact]
    public void Memory_does_not_grow_with_the_columns_that_are_not_wanted()
    {
        const int rows = 20_000;
        var text = new StringBuilder("time_s,SpO2");
        for (int c = 0; c < 40; c++) text.Append($",Pulse {c}");
        text.Append('\n');
        for (int i = 0; i < rows; i++) text.Append($"{i},97{string.Concat(Enumerable.Repeat(",70", 40))}\n");
        byte[] bytes = Encoding.ASCII.GetBytes(text.ToString());
        var options = new CsvReadOptions { Wanted = new HashSet<ChannelKind> { ChannelKind.SpO2 } };

        Table.Read(bytes, options);
        long before = GC.GetAllocatedBytesForCurrentThread();
        var result = Table.Read(bytes, options);
        long allocated = GC.GetAllocatedBytesForCurrentThread() - before;

        Assert.Single(result.Recording!.Channels);
        Assert.InRange(allocated, 0, 8_000_000); // two megabytes of rows; what is looked at first takes most
    }

    [Fact]
    public void Reading_on_allocates_nothing_per_row_beyond_the_columns_held()
    {
        static byte[] Rows(int count)
        {
            var text = new StringBuilder("time,SpO2,Pulse\n");
            var time = new DateTime(2026, 3, 1, 22, 0, 0);
            for (int i = 0; i < count; i++) text.Append($"{time.AddSeconds(i):yyyy-MM-ddTHH:mm:ss},{90 + i % 10},70\n");
            return Encoding.ASCII.GetBytes(text.ToString());
        }

        static long Allocated(byte[] bytes)
        {
            long before = GC.GetAllocatedBytesForCurrentThread();
            Table.Read(bytes);
            return GC.GetAllocatedBytesForCurrentThread() - before;
        }

        byte[] some = Rows(50_000), more = Rows(150_000);
        Allocated(some);
        long perRow = (Allocated(more) - Allocated(some)) / 100_000;

        // Two bytes for each of two channels; an even time axis takes next to none; what is read at the end is counted once more.
        Assert.InRange(perRow, 0, 12);
    }

    /// <summary>A beginning, then the same text for ever.</summary>
    private sealed class Repeating(string beginning, string text) : Stream
    {
        private readonly byte[] first = Encoding.ASCII.GetBytes(beginning);
        private readonly byte[] again = Encoding.ASCII.GetBytes(text);

        public long BytesGiven { get; private set; }

        public override bool CanRead => true;

        public override bool CanSeek => false;

        public override bool CanWrite => false;

        public override long Length => throw new NotSupportedException();

        public override long Position { get => BytesGiven; set => throw new NotSupportedException(); }

        public override int Read(byte[] buffer, int offset, int count)
        {
            for (int i = 0; i < count; i++)
            {
                buffer[offset + i] = BytesGiven < first.Length ? first[BytesGiven] : again[(BytesGiven - first.Length) % again.Length];
                BytesGiven++;
            }

            return count;
        }

        public override void Flush() => throw new NotSupportedException();

        public override long Seek(long offset, SeekOrigin origin) => throw new NotSupportedException();

        public override void SetLength(long value) => throw new NotSupportedException();

        public override void Write(byte[] buffer, int offset, int count) => throw new NotSupportedException();
    }
}
