using Stillwatch.Formats.Csv;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Json;

/// <summary>
/// Channels of a file that states their kinds itself, with the user's word over the file's: <c>--map</c> and <c>--channel</c> make a channel
/// what the user says, and put it first of its kind.
/// </summary>
internal sealed class StatedChannels(string name, ReadOptions options, IssueLog issues)
{
    private readonly bool asksForAny = options.Channel is not null || options.Map.Channels.Count > 0;

    /// <summary>Whether a channel's samples are wanted; where the user names channels, all are, for the name may be any of them.</summary>
    public bool IsHeld(ChannelKind? kind) => asksForAny || options.Wanted is null || kind is null || options.Wanted.Contains(kind.Value);

    /// <exception cref="UnreadableFileException">A channel that was asked for is not there.</exception>
    public Recording Finish(RecordingHeader header, IReadOnlyList<Channel> all)
    {
        RefuseTableKeys();
        var asked = new Dictionary<int, ChannelKind>();
        foreach (var (kind, reference) in options.Map.Channels) asked[Resolve(reference, all)] = kind;
        if (options.Channel is { } wanted)
        {
            foreach (int other in asked.Where(a => a.Value == ChannelKind.SpO2).Select(a => a.Key).ToList()) asked.Remove(other);
            asked[Resolve(wanted, all)] = ChannelKind.SpO2;
        }

        var first = asked.OrderBy(a => a.Key).Select(a => As(all[a.Key], a.Value));
        var rest = all.Where((c, i) => !asked.ContainsKey(i) && (options.Wanted is null || options.Wanted.Contains(c.Kind)));
        return new Recording(name, header.Start, [.. first, .. rest], Averaging(header.SourceAveraging), header.Annotations);
    }

    private SourceAveraging Averaging(SourceAveraging stated)
    {
        if (!options.SourceAveraging.IsKnown) return stated;
        if (stated.IsKnown && stated != options.SourceAveraging)
            issues.Doubt(ChannelIssueCodes.SourceAveraging, "", "header", $"a source averaging of {stated}", $"{options.SourceAveraging}, as told beside the file", "what is told beside the file");
        return options.SourceAveraging;
    }

    // A waveform's counts become decimals where the user says that the rules are to judge them.
    private Channel As(Channel channel, ChannelKind kind)
    {
        if (channel.Kind == kind) return channel;
        if (channel.Counts is not { } counts) return new Channel(channel.Label, kind, channel.Unit, channel.Times, channel.Values);
        if (kind.MayBeCounts()) return new Channel(channel.Label, kind, channel.Unit, channel.Times, counts);
        if (channel.Times.Rate is { IsOnePerMillisecondAtMost: false } rate)
            throw new UnreadableFileException($"{IssueLog.Show(channel.Label)} at {rate}", $"at most 1000 a second for {kind}", name, "a waveform was named in place of a number");
        var values = new ValueColumn.Builder();
        var chunk = new int[TimeAxis.ChunkLength];
        for (int c = 0; c < counts.ChunkCount; c++)
        {
            int length = counts.CopyChunk(c, chunk);
            foreach (int count in chunk.AsSpan(0, length))
            {
                int? micro = count == CountColumn.Missing ? null : counts.Calibration.MicroOf(count);
                if (micro is null && count != CountColumn.Missing)
                    issues.Doubt(ChannelIssueCodes.ValueTooLarge, channel.Label, $"channel {IssueLog.Show(channel.Label)}", $"{counts.Calibration.ValueOf(count):0.###}", "a value within ±2147", "no number");
                values.Add(micro ?? ValueColumn.Missing);
            }
        }

        return new Channel(channel.Label, kind, channel.Unit, channel.Times, values.Build());
    }

    private int Resolve(string reference, IReadOnlyList<Channel> all)
    {
        if (reference is ['#', .. var digits] && int.TryParse(digits, out int number))
        {
            int index = number > 0 ? number - 1 : all.Count + number;
            if (number != 0 && index >= 0 && index < all.Count) return index;
            throw NoSuch(reference, all, "the number counts from 1, or from -1 at the end");
        }

        string wanted = reference.Trim('"').Trim();
        foreach (var comparison in new[] { StringComparison.Ordinal, StringComparison.OrdinalIgnoreCase })
        {
            var found = Enumerable.Range(0, all.Count).Where(c => all[c].Label.Trim().Equals(wanted, comparison)).ToList();
            if (found.Count == 1) return found[0];
            if (found.Count > 1) throw NoSuch(reference, all, $"{found.Count} channels bear this label; say which by its number: {string.Join(", ", found.Select(f => $"#{f + 1}"))}");
        }

        throw NoSuch(reference, all, "the label is spelled otherwise");
    }

    private void RefuseTableKeys()
    {
        if (options is CsvReadOptions csv && (csv.RowPeriod is not null || csv.DateOrder != DateOrder.Ask))
            issues.Note(ChannelIssueCodes.OptionNotUsed, "", "command line", "--period, --rate or --date-order", "a table without times of its own", "not used: this file tells its own times");
        if (options.Map.Time is null && options.Map.Date is null && options.Map.TimeUnit is null) return;
        throw new UnreadableFileException("time, date or time-unit in --map", "labels of channels only", name, "these keys are for tables; this file tells its own times");
    }

    private UnreadableFileException NoSuch(string reference, IReadOnlyList<Channel> all, string cause)
    {
        const int shown = 40;
        string labels = string.Join(", ", all.Take(shown).Select(c => IssueLog.Show(c.Label))) + (all.Count > shown ? $" and {all.Count - shown} more" : "");
        return new UnreadableFileException($"the channels {labels}", $"the one channel {IssueLog.Show(reference)} that was asked for", name, cause);
    }
}
