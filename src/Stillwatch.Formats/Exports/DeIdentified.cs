using Stillwatch.Formats.Labels;
using Stillwatch.Oximetry;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Exports;

/// <summary>A recording with dates shifted, names replaced and free text left out, and what was done to it. This is not anonymity.</summary>
/// <param name="Recording">To be written in place of the original.</param>
/// <param name="Pseudonym">Of the patient.</param>
/// <param name="Done">What was done, in words.</param>
public sealed record DeIdentified(Recording Recording, string Pseudonym, IReadOnlyList<string> Done)
{
    /// <summary>What stands in place of a text.</summary>
    public const string TextLeftOut = "(text left out)";

    /// <summary>What is still in the export and may lead back to a person.</summary>
    public static readonly IReadOnlyList<string> Remains =
    [
        "all values with their pattern over time, which may be recognised by who has the original",
        "the time of day, and the length of the recording, its gaps and rates",
        "the shifted date: the true one lies 1 to 365 days later, and several recordings of one patient keep their distance in days",
        "which kinds of channel there are, their units and calibrations, the source's averaging",
        "when the source made notes, and how long they last; their texts are left out",
        "events, signals and review marks with their times, values and settings",
        "the name that you gave to the output file",
        "This is not anonymity. Local policy and the law decide whether and to whom it may be given.",
    ];

    private static readonly HashSet<string> KnownUnits = new(StringComparer.Ordinal)
    {
        "", "%", "1", "/min", "1/min", "bpm", "V", "mV", "uV", "µV", "μV", "nV", "A", "mA", "uA", "nA", "mmHg", "kPa", "hPa", "Pa", "cmH2O", "l/min", "L/min", "l", "L", "ml", "mL",
        "°C", "degC", "K", "Ohm", "kOhm", "s", "ms", "Hz", "g", "m/s^2", "m/s²", "a.u.", "au", "NU", "adu", "counts", "digit",
    };

    /// <param name="original">With the annotations of its source alone; what Stillwatch adds is made without names to begin with.</param>
    /// <param name="patient">Whose it is: the same text gives the same shift and pseudonym.</param>
    /// <param name="secret">Kept by the user.</param>
    public static DeIdentified Of(Recording original, string patient, LinkageSecret secret)
    {
        var done = new List<string>();
        var start = Shifted(original.Start, secret.ShiftDays(patient), done);
        var channels = original.Channels.Select((c, i) => Renamed(c, Label(original.Channels, i))).ToList();
        int renamed = original.Channels.Where((c, i) => c.Label != channels[i].Label).Count();
        if (renamed > 0) done.Add($"{renamed} of {channels.Count} channel labels replaced by the name of what the channel is, or by its number");
        int units = original.Channels.Where((c, i) => c.Unit != channels[i].Unit).Count();
        if (units > 0) done.Add($"{units} units that are none of the usual ones left out");
        var notes = original.Annotations.Select(a => a.Text.Length == 0 ? a : a with { Text = TextLeftOut }).ToList();
        int texts = original.Annotations.Count(a => a.Text.Length > 0);
        if (texts > 0) done.Add($"the texts of {texts} annotations left out; their times and lengths stay");
        done.Add("the patient's and reviewers' names or pseudonyms replaced by pseudonyms under the secret");
        done.Add("name and hash of the input file left out, and the names of settings and definitions");
        string pseudonym = secret.PatientPseudonym(patient);
        return new DeIdentified(new Recording(pseudonym, start, channels, original.SourceAveraging, notes), pseudonym, done);
    }

    private static RecordingStart Shifted(RecordingStart start, int days, List<string> done)
    {
        const string kept = "dates shifted by whole days under the secret; the time of day is kept";
        DateTime? local = start switch
        {
            RecordingStart.Local l => l.DateTime,
            RecordingStart.Zoned z => z.DateTime.DateTime,
            _ => null,
        };
        if (local is not { } clock)
        {
            done.Add(start.IsKnown ? "no date was there to shift; the time of day is kept" : "no date or time of day was there to shift");
            return start;
        }

        if (clock < DateTime.MinValue.AddDays(-days))
        {
            done.Add("the date left out, because it cannot be shifted before the year 1; the time of day is kept");
            return new RecordingStart.TimeOfDay(TimeOnly.FromDateTime(clock));
        }

        // The offset tells the region, and summer time beside a winter's date would tell of the shift.
        done.Add(start is RecordingStart.Zoned ? kept + "; the offset from UTC is left out" : kept);
        return new RecordingStart.Local(DateTime.SpecifyKind(clock.AddDays(days), DateTimeKind.Unspecified));
    }

    private static string Label(IReadOnlyList<Channel> channels, int index)
    {
        // A label of ours names nobody, and without it derived numbers would pass for the monitor's.
        if (DerivedNumerics.IsLabel(channels[index].Label)) return channels[index].Label;
        var kind = channels[index].Kind;
        string? name = PlainLabels.Of(kind);
        if (name is null) return $"channel {index + 1}";
        int earlier = channels.Take(index).Count(c => c.Kind == kind);
        return earlier == 0 ? name : $"{name} {earlier + 1}";
    }

    private static Channel Renamed(Channel channel, string label)
    {
        string unit = KnownUnits.Contains(channel.Unit) ? channel.Unit : "";
        return channel.Counts is { } counts
            ? new Channel(label, channel.Kind, unit, channel.Times, counts)
            : new Channel(label, channel.Kind, unit, channel.Times, channel.Values);
    }
}
