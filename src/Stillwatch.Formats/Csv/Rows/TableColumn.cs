using Stillwatch.Formats.Labels;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv.Rows;

/// <summary>
/// The numbers of one column as they come, in millionths. From the first one on that no <see cref="ValueColumn"/> can hold (beyond ±2147.483647) they are
/// kept wide, eight bytes each, and become whole counts of a power of ten: raw optical counts, integer waveforms.
/// </summary>
internal sealed class TableColumn
{
    public const long Missing = long.MinValue;

    /// <summary>Beyond this a whole number is no count that 32 bits hold.</summary>
    public const decimal Largest = int.MaxValue;

    private const int Decimals = 6;

    private readonly ValueColumn.Builder narrow = new();
    private ValueColumn? frozen;
    private List<long>? wide;

    /// <param name="micro">Millionths, or <see cref="Missing"/>.</param>
    public void Add(long micro)
    {
        if (wide is null)
        {
            if (micro is Missing)
            {
                narrow.Add(ValueColumn.Missing);
                return;
            }

            if (micro is >= -int.MaxValue and <= int.MaxValue)
            {
                narrow.Add((int)micro);
                return;
            }

            Widen();
        }

        wide!.Add(micro);
    }

    /// <summary>Says that no number follows; needed before <see cref="CopyChunk"/>.</summary>
    public void Freeze()
    {
        if (wide is null) frozen ??= narrow.Build();
    }

    /// <summary>Writes the numbers of one chunk of the axis.</summary>
    public void CopyChunk(int chunkIndex, Span<long> micro)
    {
        if (wide is not null)
        {
            int first = chunkIndex * TimeAxis.ChunkLength;
            for (int i = first; i < Math.Min(wide.Count, first + TimeAxis.ChunkLength); i++) micro[i - first] = wide[i];
            return;
        }

        Copy(frozen!, chunkIndex, micro);
    }

    /// <summary>The channel's samples.</summary>
    /// <param name="plan">The column.</param>
    /// <param name="issues">Where a rounding is listed.</param>
    public (ValueColumn? Values, CountColumn? Counts) Build(PlannedChannel plan, IssueLog issues)
    {
        Freeze();
        if (wide is null) return (frozen, null);
        long most = 0;
        int needed = 0;
        foreach (long micro in wide)
        {
            if (micro == Missing) continue;
            most = Math.Max(most, Math.Abs(micro));
            while (needed < Decimals && micro % Unit(needed) != 0) needed++;
        }

        int held = needed;
        while (held > 0 && Rounded(most, Unit(held)) > int.MaxValue) held--;
        long unit = Unit(held);
        long rounded = 0;
        var counts = new CountColumn.Builder();
        foreach (long micro in wide)
        {
            if (micro != Missing && micro % unit != 0) rounded++;
            counts.Add(micro == Missing ? CountColumn.Missing : (int)Rounded(micro, unit));
        }

        if (rounded > 0)
        {
            issues.Note(CsvIssueCodes.ValueRounded, plan.Label, $"column {plan.Label}", $"numbers up to {most / 1e6:0.###} with {needed} decimals", "as many figures as 32 bits hold",
                $"rounded to {unit / 1e6:0.######}", rounded);
        }

        return (null, counts.Build(new Calibration(0, 0, 1, FixedPoint.One / unit)));
    }

    /// <summary>Millionths of one count where counts have so many decimals.</summary>
    private static long Unit(int decimals)
    {
        long unit = FixedPoint.One;
        for (int i = 0; i < decimals; i++) unit /= 10;
        return unit;
    }

    // Half away from zero.
    private static long Rounded(long micro, long unit) => (micro + Math.Sign(micro) * (unit / 2)) / unit;

    private static int Copy(ValueColumn values, int chunkIndex, Span<long> micro)
    {
        Span<int> chunk = stackalloc int[TimeAxis.ChunkLength];
        int length = values.CopyChunk(chunkIndex, chunk);
        for (int i = 0; i < length; i++) micro[i] = chunk[i] == ValueColumn.Missing ? Missing : chunk[i];
        return length;
    }

    private void Widen()
    {
        var before = narrow.Build();
        wide = new List<long>(before.Count + 1);
        var chunk = new long[TimeAxis.ChunkLength];
        for (int c = 0; c < before.ChunkCount; c++) wide.AddRange(chunk.AsSpan(0, Copy(before, c, chunk)));
    }
}
