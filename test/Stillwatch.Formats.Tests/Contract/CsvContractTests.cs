using System.Text;
using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Tests.Csv;

namespace Stillwatch.Formats.Tests.Contract;

/// <summary>Separated text sits the test of all readers; its own accounting of lines and cells is <see cref="CsvMutationTests"/>.</summary>
public class CsvContractTests : ReaderContract
{
    protected override IRecordingReader Reader => new CsvRecordingReader();

    protected override IReadOnlyList<ReaderSample> Samples { get; } = [.. CsvMutations.Seeds.Take(6).Select((bytes, i) =>
        ReaderSample.Of($"table {i + 1}", "night.csv", bytes, HeaderEnd(bytes)))];

    // No more rows than lines. Line by line and cell by cell they are accounted for in CsvMutationTests.
    protected override void Account(ReaderSample damaged, ReadResult result)
    {
        if (result.Recording is null)
        {
            Assert.Contains(result.Issues, i => i.Severity == Signals.IssueSeverity.Failure);
            return;
        }

        long lines = Encoding.Latin1.GetString(damaged.Bytes).Split('\n', '\r').LongLength;
        Assert.All(result.Recording.Channels, c => Assert.InRange(c.Times.Count, 0, lines));
    }

    // A row that is not there was perhaps never there: a table has no length.
    protected override bool ShowsTruncationAt(ReaderSample sample, int length) => false;

    private static int HeaderEnd(byte[] bytes) => Math.Max(1, Array.IndexOf(bytes, (byte)'\n'));
}
