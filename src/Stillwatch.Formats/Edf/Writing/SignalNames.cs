using System.Text;
using Stillwatch.Formats.Labels;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Edf.Writing;

/// <summary>Labels (16 ASCII characters) and units (8) of the file: the source's own where they fit and are read back as what the channel is.</summary>
internal sealed class SignalNames(SampleWidth width, IssueLog issues)
{
    private const int LabelLength = 16;
    private const int UnitLength = 8;

    private readonly HashSet<string> taken = new(StringComparer.Ordinal) { width.AnnotationLabel };

    public (string Label, string Unit) NamesOf(Channel channel, int index)
    {
        string unit = UnitOf(channel);
        string label = Ascii(channel.Label);
        if (label.Length > LabelLength) label = label[..LabelLength].TrimEnd();
        if (!MeansKind(label, channel.Kind, unit)) label = PlainName(channel.Kind, index);
        label = Unique(label, channel.Kind, unit, index);
        if (label != channel.Label)
        {
            bool kept = MeansKind(label, channel.Kind, unit);
            issues.Note(WriteIssueCodes.Label, channel.Label, $"channel {IssueLog.Show(channel.Label)}", "a label that is too long, not plain ASCII, there twice or not that of its kind",
                $"at most {LabelLength} ASCII characters, each label once", $"written as {IssueLog.Show(label)}{(kept ? "" : "; it will not be recognised as " + channel.Kind)}");
        }

        ListUnit(channel, label, unit);
        return (label, unit);
    }

    // A file says the unit, and a reader of ours settles it by the kind: both may differ from what the channel has.
    private void ListUnit(Channel channel, string label, string unit)
    {
        string settled = UnitVocabulary.Settled(MeantKind(label, unit), new LabelName(label, unit), unit);
        if (settled == channel.Unit) return;
        string taken = settled == unit ? "" : $"; taken for {IssueLog.Show(settled)} when it is read";
        issues.Note(WriteIssueCodes.Unit, channel.Label, $"channel {IssueLog.Show(channel.Label)}", $"unit {IssueLog.Show(channel.Unit)}", $"at most {UnitLength} ASCII characters, and the unit of its kind",
            $"written as {IssueLog.Show(unit)}{taken}");
    }

    private static string UnitOf(Channel channel)
    {
        // The unit that ISO/IEEE 11073-10101 and so other readers know; ours takes it for beats a minute as well.
        if (channel.Kind is ChannelKind.PulseRate or ChannelKind.HeartRate && channel.Unit == "/min") return "bpm";
        string unit = Ascii(channel.Unit);
        // SpO2 in beats a minute would be read as anything but SpO2: the unit of its kind, which is listed.
        if (UnitVocabulary.Contradicts(channel.Kind, unit)) return channel.Kind is ChannelKind.PulseRate or ChannelKind.HeartRate ? "bpm" : "%";
        return unit.Length > UnitLength ? unit[..UnitLength].TrimEnd() : unit;
    }

    private string Unique(string label, ChannelKind kind, string unit, int index)
    {
        if (taken.Add(label)) return label;
        for (int number = 2; ; number++)
        {
            string suffix = $" {number}";
            string start = label.Length + suffix.Length > LabelLength ? label[..(LabelLength - suffix.Length)].TrimEnd() : label;
            string tried = start + suffix;
            if (!MeansKind(tried, kind, unit)) tried = PlainName(kind, index) + suffix;
            if (tried.Length <= LabelLength && taken.Add(tried)) return tried;
        }
    }

    // As a reader will judge it. An unrecognised channel must stay one.
    private static bool MeansKind(string label, ChannelKind kind, string unit)
    {
        if (label.Length == 0) return false;
        return MeantKind(label, unit) == kind && !(kind is ChannelKind.SpO2 or ChannelKind.InhaledOxygen && LabelVocabulary.SaysFraction(new LabelName(label)));
    }

    private static ChannelKind MeantKind(string label, string unit)
    {
        var name = new LabelName(label);
        if (name.Words is ["sat"] && UnitVocabulary.IsPercent(unit)) return ChannelKind.SpO2;
        return LabelVocabulary.KindOf(name) is { } known && !UnitVocabulary.Contradicts(known, unit) ? known : ChannelKind.Other;
    }

    private static string PlainName(ChannelKind kind, int index) => PlainLabels.Of(kind) ?? $"Signal {index + 1}";

    // The characters that units and names of this field need; anything else becomes a low line.
    private static string Ascii(string text)
    {
        var ascii = new StringBuilder(text.Length);
        foreach (char c in text.Trim())
        {
            ascii.Append(c switch
            {
                >= ' ' and <= '~' => c,
                'µ' or 'μ' => 'u',
                '₂' or '²' => '2',
                _ => '_',
            });
        }

        return ascii.ToString();
    }
}
