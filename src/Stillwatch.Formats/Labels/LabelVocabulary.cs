using Stillwatch.Formats.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Labels;

/// <summary>
/// What the words of a header mean: the trade's usual spellings in English, German, French, Spanish, Italian, Portuguese,
/// Dutch and the Scandinavian languages. Common practice, no source. A name with a word that makes it something else (a limit,
/// a minimum, raw counts) is not recognised at all.
/// </summary>
internal static class LabelVocabulary
{
    private static readonly HashSet<string> SomethingElse =
    [
        "alarm", "alarms", "alert", "limit", "limits", "threshold", "target", "setpoint", "goal", "status", "state", "event", "events",
        "upper", "lower", "high", "low", "hi", "lo", "min", "max", "minimum", "maximum", "delta", "change", "drop", "odi", "baseline",
        "raw", "adc", "amplitude", "ampl", "transit", "pressure", "width", "variability", "duration", "count", "id", "device", "probe",
        "site", "gain", "delay", "averaging", "venous", "regional", "tissue", "cerebral", "transferrin", "zone", "timezone", "invalid",
        "wave", "waveform", "curve", "stat", "flag", "flags", "q", "spo2stat", "spo2status", "spo2wave", "spo2flag",
    ];

    // "min" beside a time is its unit.
    private static readonly HashSet<string> NoTime = [.. SomethingElse.Except(["min"])];

    private static readonly HashSet<string> Valid = ["valid", "validity", "gultig", "gueltig", "valide", "valido", "valida", "geldig"];
    private static readonly HashSet<string> Quality = ["quality", "sqi", "qualitat", "qualitaet", "qualite", "calidad", "qualita", "qualidade", "kwaliteit", "signalqualitat", "signalqualitaet", "signalquality", "confidence"];
    private static readonly HashSet<string> Perfusion = ["pi", "perf", "perfusion", "perfusionindex", "perfusionsindex", "perfusione", "perfusao", "perfusie"];
    private static readonly HashSet<string> Pleth = ["pleth", "ppg", "plethysmogram", "plethysmograph", "plethysmogramm", "plethysmographie", "pletismografia", "photoplethysmogram"];
    private static readonly HashSet<string> Red = ["red", "rot", "rouge", "rojo", "rosso", "vermelho", "rood"];
    private static readonly HashSet<string> Infrared = ["ir", "infrared", "infrarot", "infrarouge", "infrarrojo", "infrarosso", "infravermelho", "infrarood"];
    private static readonly HashSet<string> Drive = ["drv", "drive", "current", "led", "power", "temperature", "temp"];
    private static readonly HashSet<string> LightWords = ["raw", "adc", "wave", "waveform"];
    private static readonly HashSet<string> NoLight = [.. SomethingElse.Except(LightWords), .. Drive];
    private static readonly HashSet<string> Heart = ["hr", "heartrate", "herzfrequenz", "hartfrequentie", "hjertefrekvens", "hjartfrekvens"];
    private static readonly HashSet<string> Cardiac = ["heart", "cardiaque", "cardiaca", "cardiac"];
    private static readonly HashSet<string> Rate = ["rate", "frequence", "frecuencia", "frequenza", "frequencia"];
    private static readonly HashSet<string> Pulse = ["pulse", "pr", "pulserate", "puls", "pulsfrequenz", "pulsrate", "pouls", "pulso", "polso", "pols", "polsfrequentie", "pulsfrekvens"];
    private static readonly HashSet<string> Saturation = ["saturation", "sattigung", "saettigung", "sauerstoffsattigung", "sauerstoffsaettigung", "saturacion", "saturazione", "saturacao", "saturatie", "zuurstofsaturatie", "satt", "o2sat", "osat", "sato2"];
    private static readonly HashSet<string> Inhaled = ["inhaled", "inspired", "insp", "inspiratory"];
    private static readonly HashSet<string> Oxygen = ["oxygen", "o2"];

    private static readonly HashSet<string> Time =
    [
        "time", "times", "timestamp", "datetime", "zeit", "uhrzeit", "zeitstempel", "zeitpunkt", "messzeit", "datumzeit", "heure", "temps",
        "horodatage", "hora", "tiempo", "ora", "orario", "tempo", "tijd", "tijdstip", "tid", "tidpunkt", "klokkeslet", "elapsed", "epoch",
        "unix", "unixtime", "clock", "seconds", "sec", "secs", "sekunden", "secondes", "segundos", "secondi", "milliseconds", "millis",
        "minutes", "minuten",
    ];

    private static readonly HashSet<string> Date = ["date", "datum", "fecha", "data", "dato", "jour", "dia", "tag"];
    private static readonly HashSet<string> Percent = ["pct", "percent", "prozent", "procent", "percentage"];
    private static readonly HashSet<string> Fraction = ["fraction", "frac", "ratio"];
    private static readonly HashSet<string> Units = ["pct", "percent", "bpm", "permin", "s", "sec", "ms", "min", "h", "hms", "a", "au", "fraction", "unit", "units"];

    /// <summary>The kind of a channel; null where the name is not recognised as one.</summary>
    public static ChannelKind? KindOf(LabelName name)
    {
        if (name.Words.Count == 0) return null;
        if (LightOf(name) is { } light) return light;
        if (name.HasAny(SomethingElse)) return null;
        if (name.HasAny(Valid)) return ChannelKind.SourceValid;
        if (name.HasAny(Quality)) return ChannelKind.SignalQuality;
        if (name.Has("fio2") || (name.HasAny(Inhaled) && name.HasAny(Oxygen))) return ChannelKind.InhaledOxygen;
        if (name.HasAny(Perfusion)) return ChannelKind.PerfusionIndex;
        if (name.HasAny(Pleth)) return ChannelKind.Pleth;
        if (name.HasAny(Heart) || (name.HasAny(Cardiac) && name.HasAny(Rate))) return ChannelKind.HeartRate;
        if (name.HasAny(Pulse) || name.Words is ["bpm"]) return ChannelKind.PulseRate;
        return IsSaturation(name) ? ChannelKind.SpO2 : null;
    }

    /// <summary>Raw light by its colour in words; "R" alone may be anything. A colour beside "drive" or "gain" is no light.</summary>
    private static ChannelKind? LightOf(LabelName name)
    {
        bool red = name.HasAny(Red), infrared = name.HasAny(Infrared);
        if (red == infrared || name.HasAny(NoLight) || IsSaturation(name)) return null;
        return red ? ChannelKind.RedLight : ChannelKind.InfraredLight;
    }

    public static bool MeansTime(LabelName name) =>
        KindOf(name) is null && !name.HasAny(NoTime) && (name.HasAny(Time) || name.Words is ["s"] or ["t"] or ["ms"] or ["t", "s" or "ms"]);

    public static bool MeansDate(LabelName name) => name.HasAny(Date) && !name.HasAny(SomethingElse);

    /// <summary>Elapsed time rather than a clock on the wall.</summary>
    public static bool MeansElapsed(LabelName name) => name.Has("elapsed") || name.Has("relative") || name.Has("offset") || name.Has("since");

    /// <summary>A clock on the wall rather than elapsed time.</summary>
    public static bool MeansWallClock(LabelName name) => name.Has("clock") || name.Has("day") || name.Has("uhrzeit");

    public static NumericTimeUnit? TimeUnitOf(LabelName name)
    {
        bool epoch = name.Has("epoch") || name.Has("unix") || name.Has("unixtime");
        if (name.Has("ms") || name.Has("msec") || name.Has("millis") || name.Has("milliseconds"))
            return epoch ? NumericTimeUnit.EpochMilliseconds : NumericTimeUnit.Milliseconds;
        if (epoch && (name.Has("s") || name.Has("seconds"))) return NumericTimeUnit.EpochSeconds;
        if (name.Has("s") || name.Has("sec") || name.Has("secs") || name.Has("seconds") || name.Has("sekunden") || name.Has("secondes") || name.Has("segundos") || name.Has("secondi"))
            return NumericTimeUnit.Seconds;
        if (name.Has("min") || name.Has("minutes") || name.Has("minuten")) return NumericTimeUnit.Minutes;
        return name.Has("h") || name.Has("hours") ? NumericTimeUnit.Hours : null;
    }

    public static bool SaysPercent(LabelName name) => name.HasAny(Percent);

    public static bool SaysFraction(LabelName name) => name.HasAny(Fraction);

    /// <summary>Whether every word of a cell is a unit: a row of such cells stands between header and values.</summary>
    public static bool IsUnit(string cell)
    {
        var words = new LabelName(cell).Words;
        return words.Count > 0 && words.All(Units.Contains);
    }

    private static bool IsSaturation(LabelName name)
    {
        foreach (string word in name.Words)
        {
            if (word.StartsWith("spo2", StringComparison.Ordinal) || word.StartsWith("sao2", StringComparison.Ordinal)) return true;
        }

        return name.HasAny(Saturation) || (name.Has("sat") && (name.HasAny(Oxygen) || name.HasAny(Percent))) || name.Words is ["sp", "o2", ..];
    }
}
