using Stillwatch.Formats.Csv.Layout;
using Stillwatch.Quantities;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Formats.Csv.Rows;

/// <summary>Makes channels of the columns once all values are known: scales fractions, and puts the channel to use of each kind first.</summary>
internal sealed class ChannelFinisher(CsvLayout layout, CsvReadOptions options, IssueLog issues)
{
    private sealed record Filled(PlannedColumn Column, ValueColumn Values, ValueSpread Spread);

    public IReadOnlyList<Channel> Finish(IReadOnlyList<PlannedColumn> planned, TimeAxis times, ValueColumn[] values)
    {
        var filled = planned.Select((column, i) => Scale(column, values[i])).ToList();
        var chosen = Choose(filled);
        NoteNoSpO2(filled);
        return [.. chosen.OrderBy(f => f.Column.Index).Concat(filled.Where(f => !chosen.Contains(f)))
            .Select(f => new Channel(f.Column.Label, f.Column.Kind, UnitOf(f.Column), times, f.Values))];
    }

    private static string UnitOf(PlannedColumn column) => column.Kind switch
    {
        ChannelKind.SpO2 or ChannelKind.InhaledOxygen or ChannelKind.PerfusionIndex => "%",
        ChannelKind.PulseRate or ChannelKind.HeartRate => "/min",
        ChannelKind.SourceValid => "1",
        _ => HeaderVocabulary.SaysPercent(column.Name) ? "%" : "",
    };

    private string Place(PlannedColumn column) => $"line {Math.Max(1, layout.HeaderLineNumber)}, column {column.Label}";

    private Filled Scale(PlannedColumn column, ValueColumn values)
    {
        var spread = ValueSpread.Of(values);
        if (column.Kind is ChannelKind.SpO2 or ChannelKind.InhaledOxygen && spread.Count > 0)
        {
            NoteName(column);
            bool withinOne = spread.Max <= FixedPoint.One && spread.Min >= 0;
            bool said = HeaderVocabulary.SaysFraction(column.Name);
            if (withinOne && (spread.HasParts || said) && spread.Max > 0)
            {
                values = TimesHundred(values);
                spread = ValueSpread.Of(values);
                string found = HeaderVocabulary.SaysPercent(column.Name) ? "no value above 1 under a name that says percent" : "no value above 1";
                Issue(said, CsvIssueCodes.ValueScaled, column, found, "percent", "fractions; multiplied by 100");
            }
            else if (said)
            {
                issues.Doubt(CsvIssueCodes.ValueScaleUnclear, column.Label, Place(column), "values above 1 under a name that says fraction", "fractions", "percent, as the values stand");
            }
            else if (column.Kind == ChannelKind.InhaledOxygen && !HeaderVocabulary.SaysPercent(column.Name))
            {
                bool percent = spread.Min > FixedPoint.One || spread.Min == 0;
                Issue(percent, CsvIssueCodes.ValueScaleUnclear, column, $"values from {Show(spread.Min)} to {Show(spread.Max)} without a unit", "percent or fraction", "percent, as the values stand");
            }
        }

        return new Filled(column, values, spread);
    }

    private void NoteName(PlannedColumn column)
    {
        if (column.Kind == ChannelKind.SpO2 && (column.Name.Has("assumed") || column.Name.Has("nominal") || column.Name.Has("uncalibrated")))
        {
            issues.Doubt(CsvIssueCodes.ValueScaleUnclear, column.Label, Place(column), $"header {IssueLog.Show(column.Name.Raw)}", "calibrated percent",
                "percent on a scale that the file itself calls assumed: not for absolute limits");
        }

        if (column.Kind == ChannelKind.SpO2 && column.Name.Words.Any(w => w.StartsWith("sao2", StringComparison.Ordinal)))
        {
            issues.Note(CsvIssueCodes.ChannelByName, column.Label, Place(column), $"header {IssueLog.Show(column.Name.Raw)}", "SpO2", "taken as SpO2 of a pulse oximeter (SaO2 is measured in arterial blood)");
        }
    }

    private void Issue(bool isCertain, string code, PlannedColumn column, string found, string expected, string assumed)
    {
        if (isCertain) issues.Note(code, column.Label, Place(column), found, expected, assumed);
        else issues.Doubt(code, column.Label, Place(column), found, expected, assumed);
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
    private List<Filled> Choose(List<Filled> filled)
    {
        var chosen = new List<Filled>();
        int? sensor = null;
        foreach (var kind in filled.Select(f => f.Column.Kind).Distinct().OrderBy(k => k == ChannelKind.SpO2 ? 0 : 1).ToList())
        {
            if (kind == ChannelKind.Other) continue;
            var alike = filled.Where(f => f.Column.Kind == kind).ToList();
            var asked = alike.Find(f => f.Column.IsAskedFor);
            var pick = asked
                ?? alike.Find(f => sensor is not null && f.Column.Name.Suffix == sensor && f.Spread.IsUsableAs(kind))
                ?? alike.Find(f => f.Spread.IsUsableAs(kind)) ?? alike[0];
            chosen.Add(pick);
            if (kind == ChannelKind.SpO2) sensor = pick.Column.Name.Suffix;
            if (alike.Count > 1 && asked is null) NoteChoice(kind, alike, pick, sensor);
        }

        return chosen;
    }

    private void NoteChoice(ChannelKind kind, List<Filled> alike, Filled pick, int? sensor)
    {
        var others = alike.Where(f => f != pick).Take(20)
            .Select(f => $"\"{f.Column.Label}\"{(f.Spread.IsUsableAs(kind) ? "" : " (no usable number)")}");
        string why = kind != ChannelKind.SpO2 && sensor is not null && pick.Column.Name.Suffix == sensor
            ? "it bears the number of the SpO2 column"
            : "the first with usable numbers";
        string other = kind == ChannelKind.SpO2 ? "--channel NAME picks another" : "--map picks another";
        issues.Note(CsvIssueCodes.ChannelChosen, kind.ToString(), $"line {Math.Max(1, layout.HeaderLineNumber)}, column {pick.Column.Label}",
            $"{alike.Count} {kind} columns: also {string.Join(", ", others)}", "one", $"\"{pick.Column.Label}\" is used: {why}; {other}");
    }

    private void NoteNoSpO2(List<Filled> filled)
    {
        bool wanted = options.Wanted is null || options.Wanted.Contains(ChannelKind.SpO2);
        if (!wanted || filled.Exists(f => f.Column.Kind == ChannelKind.SpO2)) return;
        issues.Doubt(CsvIssueCodes.ChannelNoSpO2, "", $"line {Math.Max(1, layout.HeaderLineNumber)}", $"the columns {layout.DescribeColumns()}",
            "a column of SpO2", "none; if one is, name it with --map spo2=NAME");
    }
}
