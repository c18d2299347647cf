using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Labels;

/// <summary>A planned channel with its samples: decimals, or a waveform's counts.</summary>
internal sealed record FilledChannel(PlannedChannel Plan, TimeAxis Times, ValueColumn? Values, CountColumn? Counts)
{
    private ValueSpread? spread;

    public ValueSpread Spread => spread ??= Values is null ? new ValueSpread(Counts!.Count, 0, 0, false, Counts.Count, 0) : ValueSpread.Of(Values);

    public Channel Build(string unit) => Values is not null
        ? new Channel(Plan.Label, Plan.Kind, unit, Times, Values)
        : new Channel(Plan.Label, Plan.Kind, unit, Times, Counts!);
}

/// <summary>Makes channels once all values are known: scales fractions, and puts the channel to use of each kind first.</summary>
/// <param name="issues">Where what was assumed is listed.</param>
/// <param name="place">Where the labels stand, for messages: <c>line 3</c>, <c>header</c>.</param>
/// <param name="describeAll">All labels of the file for a message.</param>
/// <param name="options">What the caller wants.</param>
internal sealed class ChannelFinisher(IssueLog issues, string place, Func<string> describeAll, ReadOptions options)
{
    public IReadOnlyList<Channel> Finish(IEnumerable<FilledChannel> channels)
    {
        var filled = channels.Select(Scale).ToList();
        var chosen = Choose(filled);
        NoteNoSpO2(filled);
        return [.. chosen.OrderBy(f => f.Plan.Index).Concat(filled.Where(f => !chosen.Contains(f))).Select(f => f.Build(UnitVocabulary.Settled(f.Plan.Kind, f.Plan.Name, f.Plan.Unit)))];
    }

    private string Place(PlannedChannel plan) => $"{place}, column {plan.Label}";

    private FilledChannel Scale(FilledChannel channel)
    {
        var plan = channel.Plan;
        if (channel.Values is null || plan.Kind is not (ChannelKind.SpO2 or ChannelKind.InhaledOxygen) || channel.Spread.Count == 0) return channel;
        NoteName(plan);
        var spread = channel.Spread;
        bool withinOne = spread.Max <= FixedPoint.One && spread.Min >= 0;
        bool saysFraction = LabelVocabulary.SaysFraction(plan.Name);
        bool saysPercent = LabelVocabulary.SaysPercent(plan.Name) || UnitVocabulary.IsPercent(plan.Unit);
        if (withinOne && (spread.HasParts || saysFraction) && spread.Max > 0)
        {
            string found = saysPercent ? "no value above 1 under a name that says percent" : "no value above 1";
            Issue(saysFraction, ChannelIssueCodes.ValueScaled, plan, found, "percent", "fractions; multiplied by 100");
            return channel with { Values = TimesHundred(channel.Values) };
        }

        if (saysFraction)
        {
            issues.Doubt(ChannelIssueCodes.ValueScaleUnclear, plan.Label, Place(plan), "values above 1 under a name that says fraction", "fractions", "percent, as the values stand");
        }
        else if (plan.Kind == ChannelKind.InhaledOxygen && !saysPercent)
        {
            bool percent = spread.Min > FixedPoint.One || spread.Min == 0;
            Issue(percent, ChannelIssueCodes.ValueScaleUnclear, plan, $"values from {Show(spread.Min)} to {Show(spread.Max)} without a unit", "percent or fraction", "percent, as the values stand");
        }

        return channel;
    }

    private void NoteName(PlannedChannel plan)
    {
        if (plan.Kind != ChannelKind.SpO2) return;
        if (plan.Name.Has("assumed") || plan.Name.Has("nominal") || plan.Name.Has("uncalibrated"))
        {
            issues.Doubt(ChannelIssueCodes.ValueScaleUnclear, plan.Label, Place(plan), $"header {IssueLog.Show(plan.Name.Raw)}", "calibrated percent",
                "percent on a scale that the file itself calls assumed: not for absolute limits");
        }

        if (plan.Name.Words.Any(w => w.StartsWith("sao2", StringComparison.Ordinal)))
        {
            issues.Note(ChannelIssueCodes.ChannelByName, plan.Label, Place(plan), $"header {IssueLog.Show(plan.Name.Raw)}", "SpO2", "taken as SpO2 of a pulse oximeter (SaO2 is measured in arterial blood)");
        }
    }

    private void Issue(bool isCertain, string code, PlannedChannel plan, string found, string expected, string assumed)
    {
        if (isCertain) issues.Note(code, plan.Label, Place(plan), found, expected, assumed);
        else issues.Doubt(code, plan.Label, Place(plan), found, expected, assumed);
    }

    private static string Show(int micro) => (micro / 1_000_000m).ToString("0.######");

    private static ValueColumn TimesHundred(ValueColumn values)
    {
        var scaled = new ValueColumn.Builder();
        var chunk = new int[TimeAxis.ChunkLength];
        for (int c = 0; c < values.ChunkCount; c++)
        {
            int length = values.CopyChunk(c, chunk);
            for (int i = 0; i < length; i++) scaled.Add(chunk[i] == ValueColumn.Missing ? ValueColumn.Missing : chunk[i] * 100);
        }

        return scaled.Build();
    }

    // SpO2 first, because the other kinds follow its sensor.
    private List<FilledChannel> Choose(List<FilledChannel> filled)
    {
        var chosen = new List<FilledChannel>();
        int? sensor = null;
        foreach (var kind in filled.Select(f => f.Plan.Kind).Distinct().OrderBy(k => k == ChannelKind.SpO2 ? 0 : 1).ToList())
        {
            if (kind == ChannelKind.Other) continue;
            var alike = filled.Where(f => f.Plan.Kind == kind).ToList();
            var asked = alike.Find(f => f.Plan.IsAskedFor);
            var pick = asked
                ?? alike.Find(f => sensor is not null && f.Plan.Name.Suffix == sensor && f.Spread.IsUsableAs(kind))
                ?? alike.Find(f => f.Spread.IsUsableAs(kind)) ?? alike[0];
            chosen.Add(pick);
            if (kind == ChannelKind.SpO2) sensor = pick.Plan.Name.Suffix;
            if (alike.Count > 1 && asked is null) NoteChoice(kind, alike, pick, sensor);
        }

        return chosen;
    }

    private void NoteChoice(ChannelKind kind, List<FilledChannel> alike, FilledChannel pick, int? sensor)
    {
        var others = alike.Where(f => f != pick).Take(20)
            .Select(f => $"\"{f.Plan.Label}\"{(f.Spread.IsUsableAs(kind) ? "" : " (no usable number)")}");
        string why = kind != ChannelKind.SpO2 && sensor is not null && pick.Plan.Name.Suffix == sensor
            ? "it bears the number of the SpO2 column"
            : "the first with usable numbers";
        string other = kind == ChannelKind.SpO2 ? "--channel NAME picks another" : "--map picks another";
        issues.Note(ChannelIssueCodes.ChannelChosen, kind.ToString(), Place(pick.Plan),
            $"{alike.Count} {kind} columns: also {string.Join(", ", others)}", "one", $"\"{pick.Plan.Label}\" is used: {why}; {other}");
    }

    private void NoteNoSpO2(List<FilledChannel> filled)
    {
        bool wanted = options.Wanted is null || options.Wanted.Contains(ChannelKind.SpO2);
        if (!wanted || filled.Exists(f => f.Plan.Kind == ChannelKind.SpO2)) return;
        string labels = describeAll();
        issues.Doubt(ChannelIssueCodes.ChannelNoSpO2, "", place, labels.Length == 0 ? "no signals" : $"the columns {labels}",
            "a column of SpO2", "none; if one is, name it with --map spo2=NAME");
    }
}
