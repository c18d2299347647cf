using Stillwatch.Formats.Csv;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Labels;

/// <summary>A signal as the header of a binary file describes it.</summary>
internal sealed record DescribedSignal(int Index, string Label, string Unit, SampleRate Rate);

/// <summary>Decides which signals of a binary file become channels, and of which kind: by the user's word, else by label and unit.</summary>
/// <param name="name">The file, for messages.</param>
/// <param name="options">What the caller wants.</param>
/// <param name="issues">Where what was assumed is listed.</param>
internal sealed class SignalPlanner(string name, ReadOptions options, IssueLog issues)
{
    /// <summary>Those to read, in file order.</summary>
    /// <exception cref="UnreadableFileException">The user named a signal that is not there, or a column that only a table has.</exception>
    public IReadOnlyList<PlannedChannel> Plan(IReadOnlyList<DescribedSignal> signals)
    {
        RefuseTableKeys();
        var asked = Asked(signals);
        var planned = new List<PlannedChannel>();
        foreach (var signal in signals)
        {
            bool isAsked = asked.TryGetValue(signal.Index, out var kind);
            if (!isAsked) kind = KindOf(signal);
            if (!kind.MayBeCounts() && !signal.Rate.IsOnePerMillisecondAtMost)
            {
                issues.Doubt(ChannelIssueCodes.ChannelTooFast, signal.Label, Place(signal), $"{kind} at {signal.Rate}", "at most 1000 a second (times are compared to the millisecond)", "held as a waveform, not as numbers to judge");
                kind = ChannelKind.Other;
            }

            if (isAsked || options.Wanted is null || options.Wanted.Contains(kind))
                planned.Add(new PlannedChannel(signal.Index, new LabelName(signal.Label, signal.Unit), signal.Label, kind, isAsked, signal.Unit.Trim()));
        }

        return planned;
    }

    /// <summary>The labels for a message, bounded.</summary>
    public static string Describe(IReadOnlyList<DescribedSignal> signals)
    {
        const int shown = 40;
        return string.Join(", ", signals.Take(shown).Select(s => IssueLog.Show(s.Label))) + (signals.Count > shown ? $" and {signals.Count - shown} more" : "");
    }

    private static string Place(DescribedSignal signal) => $"header, signal {signal.Index + 1} {IssueLog.Show(signal.Label)}";

    private ChannelKind KindOf(DescribedSignal signal)
    {
        var name = new LabelName(signal.Label);
        if (name.Words is ["sat"] && UnitVocabulary.IsPercent(signal.Unit))
        {
            issues.Note(ChannelIssueCodes.ChannelByName, signal.Label, Place(signal), $"label {IssueLog.Show(signal.Label)} in percent", "SpO2", "taken as SpO2 of a pulse oximeter");
            return ChannelKind.SpO2;
        }

        if (LabelVocabulary.KindOf(name) is not { } kind) return ChannelKind.Other;
        if (!UnitVocabulary.Contradicts(kind, signal.Unit)) return kind;
        issues.Doubt(ChannelIssueCodes.ChannelUnit, signal.Label, Place(signal), $"a label that means {kind}, in {IssueLog.Show(signal.Unit)}", $"{kind} in its own unit", "not taken as such; if it is, name it with --map");
        return ChannelKind.Other;
    }

    private Dictionary<int, ChannelKind> Asked(IReadOnlyList<DescribedSignal> signals)
    {
        var asked = new Dictionary<int, ChannelKind>();
        foreach (var (kind, reference) in options.Map.Channels) asked[Resolve(reference, signals)] = kind;
        if (options.Channel is { } channel)
        {
            // --channel is the nearer word: it replaces the SpO2 signal of the map.
            foreach (int other in asked.Where(a => a.Value == ChannelKind.SpO2).Select(a => a.Key).ToList()) asked.Remove(other);
            asked[Resolve(channel, signals)] = ChannelKind.SpO2;
        }

        return asked;
    }

    private int Resolve(string reference, IReadOnlyList<DescribedSignal> signals)
    {
        if (reference is ['#', .. var digits] && int.TryParse(digits, out int number))
        {
            // The numbers are the file's own, which counts signals that cannot be channels too (annotations).
            int? index = number > 0
                ? signals.Where(s => s.Index == number - 1).Select(s => (int?)s.Index).FirstOrDefault()
                : number < 0 && signals.Count + number >= 0 ? signals[signals.Count + number].Index : null;
            if (index is { } found) return found;
            throw NoSuch(reference, signals, "the number counts from 1, or from -1 at the end");
        }

        string wanted = reference.Trim('"').Trim();
        foreach (var comparison in new[] { StringComparison.Ordinal, StringComparison.OrdinalIgnoreCase })
        {
            var alike = signals.Where(s => s.Label.Trim().Equals(wanted, comparison)).ToList();
            if (alike.Count == 1) return alike[0].Index;
            if (alike.Count > 1) throw NoSuch(reference, signals, $"{alike.Count} signals bear this label; say which by its number: {string.Join(", ", alike.Take(20).Select(s => $"#{s.Index + 1}"))}");
        }

        throw NoSuch(reference, signals, "the label is spelled otherwise");
    }

    private void RefuseTableKeys()
    {
        if (options is CsvReadOptions csv && (csv.RowPeriod is not null || csv.DateOrder != DateOrder.Ask))
            issues.Note(ChannelIssueCodes.OptionNotUsed, "", "command line", "--period, --rate or --date-order", "a table", "not used: this format tells its own times");
        if (options.Map.Time is null && options.Map.Date is null && options.Map.TimeUnit is null) return;
        throw new UnreadableFileException("time, date or time-unit in --map", "labels of signals only", name, "these keys are for tables; this format tells its own times");
    }

    private UnreadableFileException NoSuch(string reference, IReadOnlyList<DescribedSignal> signals, string cause) =>
        new($"the signals {Describe(signals)}", $"the one signal {IssueLog.Show(reference)} that was asked for", name, cause);
}
