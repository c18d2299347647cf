using Stillwatch.Alarms;

namespace Stillwatch.Reports.Drawing;

/// <summary>
/// The few inks every figure is drawn with. No ink belongs to a parameter; red, yellow and cyan belong to alarm signals
/// alone (IEC 60601-1-8, table 2), and nothing is told by ink alone.
/// </summary>
internal static class Ink
{
    public const string Text = "#1a2027";
    public const string Muted = "#535e68"; // 6.7:1 on white
    public const string Axis = "#89939d";
    public const string Grid = "#e3e7ea";
    public const string Paper = "#ffffff";
    public const string Wash = "#f1f3f5";
    public const string Trace = "#232d37";
    public const string Envelope = "#8793a0";
    public const string Hatch = "#a3adb6";

    /// <summary>What the reader is asked to compare with the present: the proposal, or the best settings looked at; beside a screen, the truth of a rehearsal.</summary>
    public const string Proposed = "#4a3a9e"; // 8.6:1 on white

    public const string High = "#d0112b";
    public const string Medium = "#f5c400";
    public const string Low = "#00b7c7";

    /// <summary>Fill of an alarm signal; always drawn with a dark outline and a height that says the priority too.</summary>
    public static string Of(AlarmPriority priority) => priority switch
    {
        AlarmPriority.High => High,
        AlarmPriority.Medium => Medium,
        _ => Low,
    };
}
