using System.Text.RegularExpressions;
using Stillwatch.Oximetry;

namespace Stillwatch.Reports.Page;

/// <summary>The words a reader may not know, explained once at the foot of the page and led to from everywhere else.</summary>
internal static partial class Glossary
{
    /// <param name="Key">Where links lead.</param>
    /// <param name="Word">As the reader meets it.</param>
    /// <param name="Meaning">In plain words.</param>
    /// <param name="Said">The spellings in running text that lead here.</param>
    public sealed record Entry(string Key, string Word, string Meaning, params string[] Said);

    public static readonly IReadOnlyList<Entry> Entries =
    [
        new("valid", "Valid time, coverage",
            "Time in which there was an SpO2 value that may be believed. Not valid: no number, a value the monitor itself marks as doubtful, a value outside 1 to 100 %, or one that jumps by more than 10 points a second. A value holds for a few seconds until the next; after that the time counts as not valid. Coverage is valid time as a share of recorded time.",
            "valid time", "valid SpO2", "Coverage", "coverage"),
        new("fall", "Fall (desaturation event)",
            "SpO2 at least 3 points below the mean of the 120 s before, for at least 10 s. There is no accepted standard, so counts can be compared only where the definition is the same. A fall of 4 points is counted apart. ODI is the number of falls per hour of valid time.",
            "falls", "fall", "ODI"),
        new("must-catch", "Must-catch event",
            "An event that settings are not allowed to miss, either because it meets the definition printed with the settings (so low, for so long) or because a reviewer marked it as significant. It is found in the recording itself, before any averaging of ours, so it is the same for all settings.",
            "must-catch events", "must-catch event"),
        new("verdict", "In time, late, missed",
            "In time: a signal was active within the time the definition allows, counted from the beginning of the event. Late: a signal came, but after that. Missed: no signal came before the event was over.",
            "in time, late or missed"),
        new("patient-day", "Signals per patient-day (alarm load)",
            "How many times an alarm signal would start in 24 hours of valid time of one patient, if nobody touched the alarms. Physiological signals (SpO2 and pulse rate) and technical signals (such as no reading) are counted apart and never added; technical signals are counted per 24 hours connected.",
            "signals per patient-day", "patient-day", "alarm load"),
        new("delay", "Delay",
            "How long SpO2 must stay below the limit before a signal starts. A delay of 10 s means: more than 10 s.",
            "delay"),
        new("area", "Area threshold",
            "Another way to hold a signal back: it starts only once depth and time below the limit together exceed a number of %·s. 5 points below the limit for 10 s make 50 %·s; so a deep fall signals sooner than a shallow one.",
            "area thresholds", "area threshold"),
        new("backstop", "Backstop",
            "A second, lower limit with its own short delay and a higher priority, which nothing holds back.",
            "backstop"),
        new("margin", "Clear margin",
            "How far SpO2 must rise above the limit before a signal ends. It keeps one long event from giving many signals.",
            "clear margin"),
        new("averaging", "Averaging",
            "The monitor already averages its readings over some seconds before it gives them out; ours, if any, comes on top. Longer averaging makes falls look fewer, shallower and longer, so numbers can be compared only where averaging is alike.",
            "averaging", "Averaging"),
        new("interval", "Interval",
            "The range within which the number would mostly lie if other, similar patients had been recorded instead (95 %, from drawing the patients again at random many times). With few patients it is rather too narrow.",
            "interval", "intervals"),
        new("bound", "What could still be missed",
            "None missed among a few events does not prove that none ever will be. The bound is the highest share of such events that the settings could be missing, and still show this result by luck 5 times in 100 (exact binomial, one-sided 95 %).",
            "upper bound", "could still be missed"),
        new("guard-rail", "Guard rail",
            "How much the unit allows a proposal to miss: how many events missed or late, and how large the share that could still be missed. The numbers are the unit’s own policy.",
            "guard rail", "guard rails"),
        new("held-out", "Held-out patients",
            "Patients kept aside while the settings were searched for, and used afterwards to test them. Settings always look a little better on the patients they were chosen from.",
            "held-out"),
    ];

    /// <summary>The words of a page about derived numbers.</summary>
    public static readonly IReadOnlyList<Entry> OfLight =
    [
        new("derived", "Derived",
            "Computed here from the light of a recording, by a named calibration curve. It is not what a monitor showed, and a monitor may have judged the same light otherwise."),
        new("light", "Red and infrared light, pleth",
            "What comes through or back from the tissue at two colours, as the detector measured it. It swings with each pulse. A pleth is one such light as a monitor gives it out for the eye, its zero and scale unknown; from it alone no SpO2 can be had."),
        new("beat", "Beat", "One pulse in the light, from trough to peak; its time is the steepest rise between them."),
        new("ratio", "Ratio of ratios", DerivedWords.Ratio),
        new("curve", "Calibration curve",
            "What turns a ratio into a saturation. Makers find theirs by blood samples and publish none, so a textbook curve or a table of your own is used, and its name stands beside the numbers. Between two textbook curves lie several percent at the same light."),
        new("perfusion", "Perfusion index", DerivedWords.Perfusion),
        new("quality", "Quality", DerivedWords.Quality),
        new("breaths", "Respiratory rate from the pulse", DerivedWords.Breathing),
        .. LightStates.All.Where(s => s != LightState.Valid).Select(s => new Entry($"state-{(int)s}", $"{char.ToUpperInvariant(s.InWords()[0])}{s.InWords()[1..]}", s.Meaning())),
        Entries.First(e => e.Key == "averaging"),
    ];

    /// <summary>The words of a teaching page.</summary>
    public static readonly IReadOnlyList<Entry> OfRehearsal =
    [
        new("rehearsal", "Rehearsal", "An invented patient whose truth is known, for teaching and for tests. No patient, ward or monitor stands behind it."),
        new("truth", "True SpO2 at the site",
            "Saturation of the arterial blood under the sensor. It runs behind the lungs by the way of the blood. The screen runs behind it again, by its averaging, and errs where the sensor is disturbed."),
        new("screen", "Screen", "The numbers of an invented monitor, in whole numbers once a second. When a disturbance lasts, it holds the last numbers for a while and then shows none."),
        new("starting", "Starting settings", "Limits and delays of the patient’s category that the program starts from, with a source or “unit policy, no source” beside each. No recommendation."),
        .. Entries.Where(e => e.Key is "averaging" or "delay" or "backstop" or "area" or "margin"),
    ];

    private static readonly Dictionary<string, string> KeyOf = Entries.SelectMany(e => e.Said.Select(s => (s, e.Key))).ToDictionary(p => p.s, p => p.Key, StringComparer.Ordinal);

    /// <summary>Leads the first mention of each defined word in an already escaped text to its definition.</summary>
    public static string Linked(string escaped, IReadOnlyList<Entry> explained)
    {
        var linked = new HashSet<string>();
        return Said().Replace(escaped, match =>
        {
            string key = KeyOf[match.Value.Replace('\u00a0', ' ')];
            return explained.Any(e => e.Key == key) && linked.Add(key) ? $"<a class=\"term\" href=\"#word-{key}\">{match.Value}</a>" : match.Value;
        });
    }

    public static void Write(HtmlText html, IReadOnlyList<Entry> words)
    {
        html.Leaf("h2", "What the words mean", id: "words");
        using (html.Element("dl", "words"))
        {
            foreach (var entry in words)
            {
                html.Leaf("dt", entry.Word, id: $"word-{entry.Key}");
                html.Leaf("dd", entry.Meaning);
            }
        }
    }

    // Longest first, whole words; a space may be one that does not break.
    [GeneratedRegex(@"(?<![\w-])(must-catch[ \u00a0]events?|signals per patient-day|patient-day|alarm load|valid time|valid SpO2|[Cc]overage|falls?|ODI|in time, late or missed|guard rails?|delay|area thresholds?|backstop|clear margin|[Aa]veraging|intervals?|upper bound|could still be missed|held-out)(?![\w-])")]
    private static partial Regex Said();
}
