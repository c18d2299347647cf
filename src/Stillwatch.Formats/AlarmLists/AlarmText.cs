using System.Globalization;
using Stillwatch.Alarms;
using Stillwatch.Formats.Labels;
using Stillwatch.Quantities;
using Stillwatch.Signals;

namespace Stillwatch.Formats.AlarmLists;

/// <summary>What a line of a log says.</summary>
/// <param name="Condition">Null: not understood, or not one of ours.</param>
/// <param name="IsEnd">The condition is over, rather than begun.</param>
/// <param name="LimitMicro">The limit that the text names, in millionths.</param>
public readonly record struct AlarmMeaning(AlarmCondition? Condition, bool IsEnd = false, int? LimitMicro = null);

/// <summary>
/// Understands the text of an alarm by the words of the trade, in the languages of <see cref="LabelVocabulary"/>. Common practice, no
/// source. What is ambiguous, negated, an operator's action or about something else is not understood; nothing is guessed.
/// </summary>
public static class AlarmText
{
    private const int LengthRead = 200;

    public static AlarmMeaning Read(string text)
    {
        var words = AlarmWords.Of(text.Length <= LengthRead ? text : text[..LengthRead]);
        if (words.Count == 0 || words.HasAny(AlarmVocabulary.Operator)) return default;
        if (Technical(words) is { } technical) return new AlarmMeaning(technical, words.HasAny(AlarmVocabulary.Ended));
        return words.HasAny(AlarmVocabulary.None) || words.HasAny(AlarmVocabulary.Sensor) ? default : Physiological(words);
    }

    /// <summary>
    /// The same of a note in a recording, where people write too: a desaturation, a movement or an artefact is an event that somebody scored, and
    /// an alarm only where the note says so.
    /// </summary>
    public static AlarmMeaning ReadNote(string text)
    {
        var meaning = Read(text);
        if (meaning.Condition is null) return meaning;
        var words = AlarmWords.Of(text.Length <= LengthRead ? text : text[..LengthRead]);
        bool isScored = words.HasAny(AlarmVocabulary.Desaturation) || meaning.Condition == AlarmCondition.Interference;
        return isScored && !words.HasAny(AlarmVocabulary.Alarm) ? default : meaning;
    }

    private static AlarmCondition? Technical(AlarmWords words)
    {
        bool none = words.HasAny(AlarmVocabulary.None) || words.HasAny(AlarmVocabulary.Lost);
        if (words.HasAny(AlarmVocabulary.Sensor))
        {
            if (words.HasAny(AlarmVocabulary.Unplugged)) return AlarmCondition.SensorDisconnected;
            if (words.HasAny(AlarmVocabulary.Finger)) return none || words.HasAny(AlarmVocabulary.Off) ? AlarmCondition.SensorOff : null;
            return words.HasAny(AlarmVocabulary.None) ? AlarmCondition.SensorDisconnected : words.HasAny(AlarmVocabulary.Off) ? AlarmCondition.SensorOff : null;
        }

        bool isDenied = words.HasAny(AlarmVocabulary.None);
        if (words.HasAny(AlarmVocabulary.Mains)) return none || words.HasAny(AlarmVocabulary.Failed) ? AlarmCondition.SourceOnBattery : null;
        if (words.HasAny(AlarmVocabulary.Battery)) return isDenied ? null : words.HasAny(AlarmVocabulary.Low) ? AlarmCondition.SourceBatteryLow : words.HasAny(AlarmVocabulary.OnBattery) ? AlarmCondition.SourceOnBattery : null;
        if (!isDenied && words.HasAny(AlarmVocabulary.Disturbed)) return AlarmCondition.Interference;
        if (words.HasAny(AlarmVocabulary.Implausible)) return AlarmCondition.ImplausibleValue;
        var kind = words.Kind;
        bool low = words.HasAny(AlarmVocabulary.Low), poor = low || words.HasAny(AlarmVocabulary.Poor);
        if (kind == ChannelKind.PerfusionIndex) return poor ? AlarmCondition.LowPerfusion : null;
        none = none && !low && !words.HasAny(AlarmVocabulary.High) && !words.DeniesAlarm;
        if (none && (kind is ChannelKind.PulseRate or ChannelKind.SpO2 || words.HasAny(AlarmVocabulary.Reading) || words.HasAny(AlarmVocabulary.Signal))) return AlarmCondition.NoReading;
        if (kind == ChannelKind.PulseRate && words.HasAny(AlarmVocabulary.Searching)) return AlarmCondition.NoReading;
        return poor && (kind == ChannelKind.SignalQuality || words.HasAny(AlarmVocabulary.Signal)) ? AlarmCondition.SignalInadequate : null;
    }

    private static AlarmMeaning Physiological(AlarmWords words)
    {
        bool desaturation = words.HasAny(AlarmVocabulary.Desaturation);
        bool saturation = desaturation || words.Kind == ChannelKind.SpO2;
        if (words.NamesBoth) return default;
        if (!saturation && words.Kind != ChannelKind.PulseRate) return default;
        var (below, above, limit) = words.Comparison();
        bool low = below || desaturation || words.HasAny(AlarmVocabulary.Low), high = above || words.HasAny(AlarmVocabulary.High);
        if (low == high) return default;
        var condition = saturation ? low ? AlarmCondition.SpO2Low : AlarmCondition.SpO2High : low ? AlarmCondition.PulseRateLow : AlarmCondition.PulseRateHigh;
        return new AlarmMeaning(condition, words.HasAny(AlarmVocabulary.Ended) || words.EndsWith(AlarmVocabulary.Off), limit);
    }
}

/// <summary>A text as words without accents, numbers and comparison signs, in their order.</summary>
internal sealed class AlarmWords
{
    private readonly List<string> words;
    private readonly HashSet<string> set;
    private readonly Lazy<ChannelKind?> kind;

    private AlarmWords(List<string> words)
    {
        this.words = words;
        set = new HashSet<string>(words, StringComparer.Ordinal);
        kind = new Lazy<ChannelKind?>(FindKind);
    }

    public int Count => words.Count;

    public string First => words[0];

    /// <summary>What the text is about, by the words of column headers; null where they name nothing.</summary>
    public ChannelKind? Kind => kind.Value;

    /// <summary>Saturation and pulse in one text: which of them is meant cannot be told.</summary>
    public bool NamesBoth => words.Exists(w => AlarmVocabulary.Desaturation.Contains(w) || KindOfWord(w) == ChannelKind.SpO2) && words.Exists(w => KindOfWord(w) == ChannelKind.PulseRate);

    /// <summary>"No SpO2 alarm", "no alarm".</summary>
    public bool DeniesAlarm => Enumerable.Range(0, words.Count).Any(i => AlarmVocabulary.None.Contains(words[i]) && words.Skip(i + 1).Take(2).Any(AlarmVocabulary.Alarm.Contains));

    public static AlarmWords Of(string text)
    {
        var found = new List<string>();
        for (int at = 0; at < text.Length;)
        {
            char c = text[at];
            if (char.IsLetter(c) || c == '₂')
            {
                int start = at;
                while (at < text.Length && (char.IsLetterOrDigit(text[at]) || text[at] == '₂')) at++;
                found.AddRange(new LabelName(text[start..at]).Words);
            }
            else if (char.IsAsciiDigit(c))
            {
                int start = at;
                while (at < text.Length && (char.IsAsciiDigit(text[at]) || (text[at] is '.' or ',' && at + 1 < text.Length && char.IsAsciiDigit(text[at + 1])))) at++;
                found.Add(text[start..at].Replace(',', '.'));
            }
            else
            {
                if (c is '<' or '≤' or '↓') found.Add("<");
                else if (c is '>' or '≥' or '↑') found.Add(">");
                at++;
            }
        }

        return new AlarmWords(found);
    }

    public bool HasAny(HashSet<string> any) => set.Overlaps(any);

    public bool EndsWith(HashSet<string> any) => any.Contains(words[^1]);

    /// <summary>What signs say ("SpO2 88 &lt; 90", "90 &gt; SpO2"), and the limit named after a sign or the word limit.</summary>
    public (bool Below, bool Above, int? LimitMicro) Comparison()
    {
        bool below = false, above = false;
        int? limit = null;
        int subject = words.FindIndex(w => KindOfWord(w) is not null);
        for (int i = 0; i < words.Count; i++)
        {
            if (AlarmVocabulary.Limit.Contains(words[i]) && Number(i + 1) is { } named) limit = named;
            if (words[i] is not ("<" or ">")) continue;
            // "for > 10 s" is a length of time.
            if (i + 2 < words.Count && AlarmVocabulary.Seconds.Contains(words[i + 2])) continue;
            bool reversed = subject > i;
            if ((words[i] == "<") != reversed) below = true;
            else above = true;
            if (Number(reversed ? i - 1 : i + 1) is { } number) limit = number;
        }

        return (below, above, limit);
    }

    private int? Number(int index) =>
        index >= 0 && index < words.Count && decimal.TryParse(words[index], NumberStyles.AllowDecimalPoint, CultureInfo.InvariantCulture, out decimal value) && value <= 1000
            ? FixedPoint.ToMicro(value)
            : null;

    private ChannelKind? FindKind()
    {
        var found = LabelVocabulary.KindOf(new LabelName(string.Join(' ', words.Where(w => !IsFiller(w)))));
        return found is null && HasAny(AlarmVocabulary.ShortSaturation) ? ChannelKind.SpO2 : found;
    }

    private static ChannelKind? KindOfWord(string word) => AlarmVocabulary.ShortSaturation.Contains(word) ? ChannelKind.SpO2 : LabelVocabulary.KindOf(new LabelName(word));

    private static bool IsFiller(string word) =>
        char.IsAsciiDigit(word[0]) || word is "<" or ">" || AlarmVocabulary.Low.Contains(word) || AlarmVocabulary.High.Contains(word)
        || AlarmVocabulary.Limit.Contains(word) || AlarmVocabulary.Alarm.Contains(word) || AlarmVocabulary.Ended.Contains(word);
}
