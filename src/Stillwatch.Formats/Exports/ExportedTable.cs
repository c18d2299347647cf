using System.Globalization;
using System.Security.Cryptography;
using System.Text;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Csv.Times;
using Stillwatch.Formats.Json;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Exports;

/// <summary>Reads a table that we wrote, by the manifest beside it, back to the recording that it was: nothing is recognised, all is stated.</summary>
internal static class ExportedTable
{
    private const int LineLimit = 1 << 20;

    /// <summary>The recording; null where there is no manifest, or it is not of this table, which is then listed.</summary>
    /// <exception cref="UnreadableFileException">Table and manifest belong together by their hash, and yet do not agree.</exception>
    public static ReadResult? TryRead(RecordingSource source, ReadOptions options, out IReadOnlyList<ReadIssue> issues)
    {
        var log = new IssueLog();
        var table = TableOf(source, options, log);
        issues = log.ToList();
        if (table is null) return null;
        var stated = new StatedChannels(source.Name, options, log);
        using var stream = source.Open();
        using var text = new StreamReader(stream, new UTF8Encoding(false), detectEncodingFromByteOrderMarks: false, 1 << 16);
        var channels = new Reader(text, source.Name, table, stated, options.Progress).Read();
        var recording = stated.Finish(table.Header, channels);
        return new ReadResult(recording, log.ToList(), "separated text, with the manifest of its export");
    }

    private static TableManifest? TableOf(RecordingSource source, ReadOptions options, IssueLog issues)
    {
        string name = source.Name + ExportManifest.Suffix;
        using var stream = FileNames.IsPlain(name) ? source.Folder.TryOpen(name) : null;
        if (stream is null) return null;
        const string expected = "the manifest of this table's export", assumed = "read as any table; labels, units, exact times and annotations of the export are not restored";
        if (options.Map.Time is not null || options.Map.Date is not null || options.Map.TimeUnit is not null || options is CsvReadOptions { RowPeriod: not null })
        {
            issues.Note(CsvIssueCodes.TableManifest, "", name, "--map time or --period beside a manifest", "the one or the other", "read as any table, as asked for; the manifest is not used");
            return null;
        }

        try
        {
            if (TableManifest.Read(stream, name) is not { } table)
            {
                issues.Doubt(CsvIssueCodes.TableManifest, "", name, "a manifest of something else", expected, assumed);
                return null;
            }

            using var file = source.Open();
            string hash = Convert.ToHexStringLower(SHA256.HashData(file));
            if (hash == table.Sha256) return table;
            issues.Doubt(CsvIssueCodes.TableManifest, "", name, "a table that was changed after its export (its SHA-256 is another)", expected, assumed);
        }
        catch (UnreadableFileException e)
        {
            issues.Doubt(CsvIssueCodes.TableManifest, "", e.Where, e.Found, e.Expected, assumed);
        }

        return null;
    }

    private sealed class Reader
    {
        private readonly TextReader text;
        private readonly string name;
        private readonly TableManifest table;
        private readonly StatedChannels stated;
        private readonly Action<long>? progress;
        private readonly ChannelFill[] fills;
        private readonly StringBuilder line = new();
        private RecordingStart start = new RecordingStart.Unknown();
        private long lineNumber;
        private long read;
        private long ofDay; // the last time of day and its whole days, in milliseconds
        private long days;

        public Reader(TextReader text, string name, TableManifest table, StatedChannels stated, Action<long>? progress)
        {
            this.text = text;
            this.name = name;
            this.table = table;
            this.stated = stated;
            this.progress = progress;
            fills = [.. table.Header.Channels.Select(c => new ChannelFill((found, expected) => Wrong(found, expected)) { IsHeld = stated.IsHeld(c.Kind) })];
        }

        public List<Channel> Read()
        {
            if (!TryLine()) throw Wrong("no line", "a header");
            start = StartOf(line.ToString());
            bool isShared = CsvTablePlan.IsSharedBy([.. table.Header.Channels.Select(c => c.Axis)]);
            bool needsTimes = table.Header.Channels.Any(c => c.Axis is AxisHeader.Uneven);
            while (TryLine()) Row(line.ToString(), isShared, needsTimes);
            var axes = new List<TimeAxis>();
            var channels = new List<Channel>();
            for (int c = 0; c < fills.Length; c++)
            {
                axes.Add(fills[c].Axis(table.Header.Channels[c], axes));
                if (fills[c].IsHeld) channels.Add(fills[c].Build(table.Header.Channels[c], axes[c]));
            }

            return channels;
        }

        private void Row(ReadOnlySpan<char> row, bool isShared, bool needsTimes)
        {
            int end = row.IndexOf(',');
            long time = needsTimes ? TimeOf(end < 0 ? row : row[..end]) : 0;
            for (int c = 0; c < fills.Length; c++)
            {
                if (end < 0) throw Wrong($"{c + 1} cells", $"{fills.Length + 1}");
                row = row[(end + 1)..];
                end = row.IndexOf(',');
                var cell = end < 0 ? row : row[..end];
                if (cell.IsEmpty && !isShared) continue;
                bool hasNumber = !cell.IsEmpty && !cell.SequenceEqual(CsvTablePlan.NoNumber);
                if (table.Header.Channels[c].Axis is AxisHeader.Uneven) fills[c].AddTime(time);
                Sample(fills[c], table.Header.Channels[c], table.HoldsCounts[c], hasNumber ? cell : []);
            }

            if (end >= 0) throw Wrong("more cells", $"{fills.Length + 1}");
        }

        private void Sample(ChannelFill fill, ChannelHeader channel, bool holdsCounts, ReadOnlySpan<char> cell)
        {
            var culture = CultureInfo.InvariantCulture;
            if (channel.Calibration is not { } calibration)
            {
                if (cell.IsEmpty) fill.AddValue(ValueColumn.Missing);
                else if (decimal.TryParse(cell, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, culture, out decimal value)) fill.AddValue(fill.MicroOf(value));
                else throw Wrong(IssueLog.Show(cell), "a number");
                return;
            }

            if (cell.IsEmpty)
            {
                fill.AddCount(CountColumn.Missing);
                return;
            }

            int? count = holdsCounts
                ? int.TryParse(cell, NumberStyles.AllowLeadingSign, culture, out int whole) ? whole : null
                : double.TryParse(cell, NumberStyles.Float, culture, out double number) ? CsvTablePlan.CountOf(calibration, number) : null;
            if (count is null or CountColumn.Missing) throw Wrong(IssueLog.Show(cell), holdsCounts ? "a count" : "a value of the channel's calibration");
            fill.AddCount(count.Value);
        }

        private RecordingStart StartOf(string header)
        {
            int end = header.IndexOf(',', StringComparison.Ordinal);
            string time = end < 0 ? header : header[..end];
            return (time, table.Header.Start) switch
            {
                (CsvTablePlan.ElapsedHeader, _) => new RecordingStart.Unknown(),
                (CsvTablePlan.TimeOfDayHeader, RecordingStart.TimeOfDay ofDayStart) => Began(ofDayStart),
                (CsvTablePlan.TimeHeader, RecordingStart.Local or RecordingStart.Zoned) => table.Header.Start,
                _ => throw Wrong($"a time column {IssueLog.Show(time)} and a start of {table.Header.Start}", "a column that goes with the start"),
            };
        }

        private RecordingStart.TimeOfDay Began(RecordingStart.TimeOfDay began)
        {
            ofDay = began.Time.Ticks / TimeSpan.TicksPerMillisecond;
            return began;
        }

        /// <summary>Milliseconds from the origin. The table shows whole milliseconds of the clock; so does the start that they are counted from.</summary>
        private long TimeOf(ReadOnlySpan<char> cell)
        {
            var culture = CultureInfo.InvariantCulture;
            switch (start)
            {
                case RecordingStart.Zoned zoned when DateTimeOffset.TryParseExact(cell, "yyyy-MM-ddTHH:mm:ss.fffzzz", culture, DateTimeStyles.None, out var at):
                    return at.UtcTicks / TimeSpan.TicksPerMillisecond - zoned.DateTime.UtcTicks / TimeSpan.TicksPerMillisecond;
                case RecordingStart.Local local when DateTime.TryParseExact(cell, "yyyy-MM-ddTHH:mm:ss.fff", culture, DateTimeStyles.None, out var at):
                    return at.Ticks / TimeSpan.TicksPerMillisecond - local.DateTime.Ticks / TimeSpan.TicksPerMillisecond;
                case RecordingStart.TimeOfDay began when TimeOnly.TryParseExact(cell, "HH:mm:ss.fff", culture, DateTimeStyles.None, out var at):
                    long now = at.Ticks / TimeSpan.TicksPerMillisecond;
                    long step = now - ofDay;
                    if (step <= -ClockText.DayMilliseconds / 2) days++;
                    else if (step > ClockText.DayMilliseconds / 2) days--;
                    ofDay = now;
                    return days * ClockText.DayMilliseconds + now - began.Time.Ticks / TimeSpan.TicksPerMillisecond;
                case RecordingStart.Unknown when decimal.TryParse(cell, NumberStyles.AllowLeadingSign | NumberStyles.AllowDecimalPoint, culture, out decimal seconds)
                    && Math.Abs(seconds) <= RecordingFields.MostMilliseconds / 1000m && decimal.Truncate(seconds * 1000) == seconds * 1000:
                    return (long)(seconds * 1000);
                default:
                    throw Wrong(IssueLog.Show(cell), "a time like those that the export writes");
            }
        }

        private bool TryLine()
        {
            line.Clear();
            lineNumber++;
            int c = text.Read();
            if (c < 0) return false;
            for (; c is not (< 0 or '\n'); c = text.Read())
            {
                if (line.Length >= LineLimit) throw Wrong($"a line of more than {LineLimit} characters", "a shorter one");
                line.Append((char)c);
            }

            read += line.Length + 1;
            if ((lineNumber & 0xFFF) == 0) progress?.Invoke(read);
            return true;
        }

        private UnreadableFileException Wrong(string found, string expected) =>
            new(found, expected, $"{name}, line {lineNumber}", "the manifest beside the table is not that of its export; take it away, and it is read as any table");
    }
}
