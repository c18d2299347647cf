using Stillwatch.Alarms;
using Stillwatch.Conditioning;
using Stillwatch.Quantities;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.Tests.Alarms;

/// <summary>
/// One line of a scenario table: id | what it shows | rows | settings | happenings | signals | heard | shown | notes. The form
/// is explained at the head of each table.
/// </summary>
internal sealed class Scenario
{
    private readonly string[] fields;
    private readonly List<AlarmChange> log = [];
    private readonly SignalCollector collector = new();
    private SampleTime end;

    public Scenario(string[] fields)
    {
        if (fields.Length != 9) throw new FormatException($"Scenario '{fields[0]}': found {fields.Length} fields, expected 9.");
        this.fields = fields;
        Play();
    }

    public string Signals => List(collector.Ended().Select(s => $"{s.Condition} {SignalText.Describe(s, true, true)}"));

    public string Heard => Stretches(AlarmChangeKind.Audible, AlarmChangeKind.Silent);

    public string Shown => Stretches(AlarmChangeKind.Shown, AlarmChangeKind.Hidden);

    public string Notes => List(log.Where(c => c.Kind >= AlarmChangeKind.Latched).Select(c => $"{Word(c.Kind)}{(c.Condition is { } of ? " " + of : "")} {SignalText.Seconds(c.At)}"));

    private void Play()
    {
        var words = fields[3].Split(' ', StringSplitOptions.RemoveEmptyEntries);
        var channels = fields[2].Split(';', StringSplitOptions.TrimEntries).Select(c => c.Split(':', StringSplitOptions.TrimEntries)).ToDictionary(c => c[0], c => SeriesWithSilence(c[1]));
        SampleTime? connected = words.FirstOrDefault(w => w.StartsWith("connected=", StringComparison.Ordinal)) is { } word ? SampleTime.FromSeconds(decimal.Parse(word[10..])) : null;
        var second = Duration.FromSeconds(1);
        var feed = new AlarmFeed(channels.ContainsKey("spo2") ? second : null, channels.ContainsKey("pulse") ? second : null, ConnectedAt: connected);
        var inputs = new List<(decimal At, int Order, AlarmInput Input)>();
        int count = channels.Values.Max(v => v.Count);
        for (int i = 0; i < count; i++)
        {
            if (channels.Values.All(v => i >= v.Count || v[i].IsSilent)) continue;
            inputs.Add((i, 1, AlarmInput.Of(new AlarmRow(SampleTime.FromSeconds(i), At("spo2", i), At("pulse", i), At("pi", i), At("q", i)))));
        }

        foreach (string happening in fields[4].Split(';', StringSplitOptions.TrimEntries | StringSplitOptions.RemoveEmptyEntries))
        {
            string[] parts = happening.Split(' ', StringSplitOptions.RemoveEmptyEntries);
            bool before = parts[0].EndsWith('-');
            decimal at = decimal.Parse(parts[0].TrimEnd('-'));
            inputs.Add((at, before ? 0 : 2, Happening(SampleTime.FromSeconds(at), parts[1], parts[2..])));
        }

        var state = AlarmEngine.Start(Settings(words), feed);
        var changes = new AlarmChanges();
        foreach (var (_, _, input) in inputs.OrderBy(i => i.At).ThenBy(i => i.Order)) Step(input);
        end = SampleTime.FromSeconds(count);
        if (state.Now > end) end = state.Now.Value;
        if (!state.HasEnded) Step(AlarmInput.End(end));

        void Step(in AlarmInput input)
        {
            AlarmEngine.Step(state, input, changes);
            collector.Take(changes);
            log.AddRange(changes.Span);
        }

        int At(string channel, int index) =>
            channels.TryGetValue(channel, out var values) && index < values.Count && values[index].Value is { } v ? FixedPoint.ToMicro(v) : ValueColumn.Missing;
    }

    private static List<(decimal? Value, bool IsSilent)> SeriesWithSilence(string text)
    {
        var all = new List<(decimal?, bool)>();
        foreach (string word in text.Split(' ', StringSplitOptions.RemoveEmptyEntries))
        {
            bool silent = word[0] == '_';
            all.AddRange(Series.Parse(silent ? "." + word[1..] : word).Values.Select(v => (v, silent)));
        }

        return all;
    }

    private static AlarmInput Happening(SampleTime at, string what, string[] rest)
    {
        AlarmCondition? condition = rest.Length > 0 && char.IsLetter(rest[^1][0]) && Enum.TryParse<AlarmCondition>(rest[^1], out var c) ? c : null;
        Duration? length = rest.Length > 0 && decimal.TryParse(rest[0], out decimal l) ? Duration.FromSeconds(l) : null;
        return what switch
        {
            "advance" => AlarmInput.AdvanceTo(at),
            "advance-to" => AlarmInput.AdvanceTo(SampleTime.FromSeconds(decimal.Parse(rest[0]))),
            "row" => AlarmInput.Of(new AlarmRow(SampleTime.FromSeconds(decimal.Parse(rest[0])), FixedPoint.ToMicro(decimal.Parse(rest[1])))),
            "source" => AlarmInput.SourceIs(at, rest.Aggregate(SourceStates.None, (all, s) => all | Enum.Parse<SourceStates>(s))),
            "settings" => AlarmInput.SettingsAre(at, Settings(rest)),
            "end" => AlarmInput.End(at),
            "pause-audio" => AlarmInput.Operator(at, OperatorAction.PauseAudio, condition, length),
            "audio-off" => AlarmInput.Operator(at, OperatorAction.TurnAudioOff, condition),
            "resume-audio" => AlarmInput.Operator(at, OperatorAction.ResumeAudio, condition),
            "pause-alarm" => AlarmInput.Operator(at, OperatorAction.PauseAlarm, condition, length),
            "alarm-off" => AlarmInput.Operator(at, OperatorAction.TurnAlarmOff, condition),
            "resume-alarm" => AlarmInput.Operator(at, OperatorAction.ResumeAlarm, condition),
            "acknowledge" => AlarmInput.Operator(at, OperatorAction.Acknowledge, condition),
            "end-acknowledgement" => AlarmInput.Operator(at, OperatorAction.EndAcknowledgement, condition),
            _ => throw new FormatException($"Happening '{what}' found; expected one that the table's head explains."),
        };
    }

    private static AlarmSettings Settings(string[] words)
    {
        var values = words.Select(w => w.Split('=')).ToDictionary(w => w[0], w => w[1]);
        var delay = Duration.FromSeconds(decimal.Parse(values.GetValueOrDefault("delay", "0")));
        decimal margin = decimal.Parse(values.GetValueOrDefault("margin", "0"));
        var area = Area.Of(decimal.Parse(values.GetValueOrDefault("area", "0")));
        var annunciation = AnnunciationSettings.Default;
        if (values.TryGetValue("latching", out string? latching))
            annunciation = annunciation with { Latching = AlarmConditionSet.Of([.. latching.Split(',').Select(Enum.Parse<AlarmCondition>)]) };
        if (values.TryGetValue("reminder", out string? reminder)) annunciation = annunciation with { ReminderEvery = Duration.FromSeconds(decimal.Parse(reminder)) };
        BackstopSettings? backstop = null;
        if (values.TryGetValue("backstop", out string? both))
            backstop = new BackstopSettings(Percent.Of(decimal.Parse(both.Split('/')[0])), Duration.FromSeconds(decimal.Parse(both.Split('/')[1])));
        return new AlarmSettings
        {
            SpO2Low = Limit<Percent>("low"),
            SpO2High = Limit<Percent>("high"),
            PulseRateLow = Limit<BeatsPerMinute>("pulse-low"),
            PulseRateHigh = Limit<BeatsPerMinute>("pulse-high"),
            Backstop = backstop,
            SpO2Conditioning = ConditioningSettings.Default with { Averaging = Duration.FromSeconds(decimal.Parse(values.GetValueOrDefault("averaging", "0"))) },
            Annunciation = annunciation,
            Technical = TechnicalSettings.Default with { QualityThresholdMicro = values.TryGetValue("quality", out string? q) ? FixedPoint.ToMicro(decimal.Parse(q)) : null },
        };

        LimitSettings<T>? Limit<T>(string name) where T : struct, IQuantity<T> =>
            values.TryGetValue(name, out string? text) ? new(T.FromMicro(FixedPoint.ToMicro(decimal.Parse(text))), delay, area, T.FromMicro(FixedPoint.ToMicro(margin))) : null;
    }

    private string Stretches(AlarmChangeKind begins, AlarmChangeKind stops) => List(
        from c in log
        where c.Kind == begins
        let stop = log.Where(s => s.Kind == stops && s.Condition == c.Condition && s.At >= c.At).Select(s => s.At).DefaultIfEmpty(end).First()
        select $"{c.Condition} {SignalText.Seconds(c.At)}-{SignalText.Seconds(stop)}");

    private static string Word(AlarmChangeKind kind) => kind switch
    {
        AlarmChangeKind.AcknowledgementEnded => "acknowledgement-ended",
        AlarmChangeKind.PauseEnded => "pause-ended",
        AlarmChangeKind.InputLate => "late",
        AlarmChangeKind.RowRepeated => "repeated",
        AlarmChangeKind.InputRefused => "refused",
        _ => kind.ToString().ToLowerInvariant(),
    };

    private static string List(IEnumerable<string> items)
    {
        string all = string.Join("; ", items);
        return all.Length == 0 ? "none" : all;
    }
}
