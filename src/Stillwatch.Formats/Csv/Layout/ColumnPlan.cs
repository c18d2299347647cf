using Stillwatch.Formats.Labels;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Csv.Layout;

/// <summary>Decides which columns become channels: by the user's word, by header, and not where header and values do not fit together.</summary>
internal sealed class ColumnPlanner(CsvLayout layout, string name, CsvReadOptions options, IssueLog issues)
{
    /// <summary>The columns in file order.</summary>
    /// <param name="taken">The columns of time and date.</param>
    /// <exception cref="UnreadableFileException">The user named a column that is not there.</exception>
    public List<PlannedChannel> Plan(IReadOnlyCollection<int> taken)
    {
        var asked = Asked();
        int doubtFrom = FirstDoubtfulColumn();
        var doubtful = new List<int>();
        var planned = new List<PlannedChannel>();
        for (int c = 0; c < layout.ColumnCount; c++)
        {
            if (asked.TryGetValue(c, out var kind))
            {
                planned.Add(new PlannedChannel(c, layout.NameOf(c), layout.LabelOf(c), kind, true));
            }
            else if (!taken.Contains(c) && LabelVocabulary.KindOf(layout.NameOf(c)) is { } known && IsWanted(known))
            {
                if (c >= doubtFrom) doubtful.Add(c);
                else planned.Add(new PlannedChannel(c, layout.NameOf(c), layout.LabelOf(c), known, false));
            }
        }

        NoteMisaligned(doubtFrom, doubtful);
        // Asked for by name, the columns that mean nothing to us come along; otherwise only where there is nothing else to look at.
        bool wantsOthers = options.Wanted?.Contains(ChannelKind.Other) ?? false;
        if (wantsOthers || (planned.Count == 0 && options.Wanted is null)) AddOthers(planned, taken, doubtFrom);
        if (wantsOthers) NoteNotTaken(planned, taken);
        return Limit([.. planned.OrderBy(p => p.Index)]);
    }

    private bool IsWanted(ChannelKind kind) => options.Wanted is null || options.Wanted.Contains(kind);

    private Dictionary<int, ChannelKind> Asked()
    {
        var asked = new Dictionary<int, ChannelKind>();
        foreach (var (kind, reference) in options.Map.Channels) asked[layout.Resolve(reference, name, kind)] = kind;
        if (options.Channel is { } channel)
        {
            int column = layout.Resolve(channel, name, ChannelKind.SpO2);
            if (LabelVocabulary.KindOf(layout.NameOf(column)) is var kind && kind != ChannelKind.SpO2 && !asked.ContainsKey(column))
            {
                issues.Note(CsvIssueCodes.ChannelByName, "", Place(column), $"column \"{layout.LabelOf(column)}\"", "a header that means SpO2", "taken as SpO2, as asked for");
            }

            // --channel is the nearer word: it replaces the SpO2 column of the map.
            foreach (int other in asked.Where(a => a.Value == ChannelKind.SpO2).Select(a => a.Key).ToList()) asked.Remove(other);
            asked[column] = ChannelKind.SpO2;
        }

        return asked;
    }

    private string Place(int column) => $"line {Math.Max(1, layout.HeaderLineNumber)}, column #{column + 1}";

    // Values below more columns than have names: somewhere before them header and values went apart. They agreed as far as
    // the columns hold what their names say; from the first named column without a number on, nothing is certain.
    private int FirstDoubtfulColumn()
    {
        if (!layout.HasHeader) return int.MaxValue;
        int named = layout.Headers.ToList().FindLastIndex(h => h.Raw.Length > 0) + 1;
        bool surplus = false;
        for (int c = named; c < layout.Width; c++) surplus |= layout.CountInSample(c, s => s != CellShape.Blank) > 0;
        if (!surplus) return int.MaxValue;
        int first = Enumerable.Range(0, named).FirstOrDefault(c => layout.Headers[c].Raw.Length > 0 && layout.CountInSample(c, s => s.IsValue()) == 0, -1);
        return Math.Max(0, first);
    }

    private void NoteMisaligned(int doubtFrom, List<int> doubtful)
    {
        if (layout.HasHeader && layout.Headers.Count > layout.Width && layout.Headers.Skip(layout.Width).Any(h => h.Raw.Length > 0))
        {
            issues.Doubt(CsvIssueCodes.HeaderMisaligned, "", $"line {layout.HeaderLineNumber}", $"{layout.Headers.Count} names above rows of {layout.Width} cells",
                "as many names as cells", "names belong to the cells from the left; the last ones have no values");
        }

        if (doubtFrom == int.MaxValue) return;
        string left = doubtful.Count == 0 ? "none of them would have been used" : $"not taken: {string.Join(", ", doubtful.Take(20).Select(c => $"\"{layout.LabelOf(c)}\" (#{c + 1})"))}";
        issues.Doubt(CsvIssueCodes.HeaderMisaligned, "", $"line {layout.HeaderLineNumber}, column #{doubtFrom + 1}",
            "values below columns without a name at the end of the header", "values that stand below their names",
            $"from column #{doubtFrom + 1} \"{layout.LabelOf(doubtFrom)}\" on, names and values may not belong together; {left}; name a column you trust by its number, e.g. --map fio2=#{layout.Width} or fio2=#-1");
    }

    private void NoteNotTaken(List<PlannedChannel> planned, IReadOnlyCollection<int> taken)
    {
        var left = Enumerable.Range(0, layout.ColumnCount).Where(c => !taken.Contains(c) && !planned.Exists(p => p.Index == c) && layout.CountInSample(c, s => s != CellShape.Blank) > 0).ToList();
        if (left.Count == 0) return;
        issues.Note(CsvIssueCodes.ChannelNotTaken, "", $"line {Math.Max(1, layout.HeaderLineNumber)}", string.Join(", ", left.Take(20).Select(c => IssueLog.Show(layout.LabelOf(c)))),
            "columns of numbers", "these columns are not taken: no number was seen in them, or they stand where names and values do not go together", left.Count);
    }

    // Every further column of numbers, none of a kind that is known and not wanted.
    private void AddOthers(List<PlannedChannel> planned, IReadOnlyCollection<int> taken, int doubtFrom)
    {
        for (int c = 0; c < layout.ColumnCount; c++)
        {
            if (!taken.Contains(c) && c < doubtFrom && !planned.Exists(p => p.Index == c) && (LabelVocabulary.KindOf(layout.NameOf(c)) is not { } known || IsWanted(known))
                && layout.CountInSample(c, s => s == CellShape.Number) > 0)
                planned.Add(new PlannedChannel(c, layout.NameOf(c), layout.LabelOf(c), ChannelKind.Other, false));
        }
    }

    private List<PlannedChannel> Limit(List<PlannedChannel> planned)
    {
        if (planned.Count <= options.ChannelLimit) return planned;
        var kept = planned.Where(p => p.IsAskedFor).Concat(planned.Where(p => !p.IsAskedFor)).Take(options.ChannelLimit).OrderBy(p => p.Index).ToList();
        issues.Doubt(CsvIssueCodes.ChannelTooMany, "", $"line {Math.Max(1, layout.HeaderLineNumber)}", $"{planned.Count} columns that could be channels",
            $"at most {options.ChannelLimit}", "the last ones are not taken; name those you need with --map", planned.Count - kept.Count);
        return kept;
    }
}
