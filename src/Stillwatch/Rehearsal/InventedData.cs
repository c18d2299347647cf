using Stillwatch.Signals;

namespace Stillwatch.Rehearsal;

/// <summary>How invented data say of themselves that they are, in every format that keeps notes: nobody may take a rehearsal for a patient.</summary>
public static class InventedData
{
    /// <summary>How the note begins.</summary>
    public const string Notice = "Invented data of a rehearsal: no patient";

    /// <summary>How every label of a rehearsed channel ends: a table that lost its notes still says it.</summary>
    public const string LabelEnd = " invented";

    /// <summary>Whether a recording says of itself that its data are invented.</summary>
    public static bool SaysSo(Recording recording) =>
        recording.Annotations.Any(a => a.Text.StartsWith(Notice, StringComparison.Ordinal)) || recording.Channels.Any(c => c.Label.EndsWith(LabelEnd, StringComparison.Ordinal));

    /// <summary>The channel with a label that says so, short enough for every format.</summary>
    public static Channel Labelled(Channel channel)
    {
        string label = (channel.Kind == ChannelKind.InfraredLight ? "IR" : channel.Label) + LabelEnd;
        return channel.Counts is { } counts
            ? new Channel(label, channel.Kind, channel.Unit, channel.Times, counts)
            : new Channel(label, channel.Kind, channel.Unit, channel.Times, channel.Values);
    }
}
