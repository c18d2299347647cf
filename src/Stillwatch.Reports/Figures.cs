using Stillwatch.Alarms;
using Stillwatch.Oxygenation;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Replay;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Plots;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports;

/// <summary>
/// The figures as SVG text, for the report, for files and for screens. Each returns "" when there is nothing to draw.
/// </summary>
/// <remarks><c>id</c> must be unique among the figures of one page and made of letters, digits and hyphens.</remarks>
public static class Figures
{
    /// <summary>The whole recording: SpO2 with limits, events, signals under present and proposed settings, pulse rate.</summary>
    public static string Overview(RecordingSection section, string id = "overview") => Pictures.Overview(section, id).ToSvg();

    /// <summary>SpO2 alone, small enough for a line of a table.</summary>
    public static string NightStrip(RecordingSection section, string id = "night") => Pictures.NightStrip(section, id).ToSvg();

    /// <summary>Time at each whole percent, with the low limit of the settings where there is one.</summary>
    public static string ExposureHistogram(Exposure exposure, AlarmSettings? present = null, string id = "histogram", string? replayedName = null) => Pictures.ExposureHistogram(exposure, present, id, replayedName).ToSvg();

    /// <summary>Minutes below each level, hour by hour.</summary>
    public static string HourStrip(IReadOnlyList<HourSummary> hours, RecordingStart start, string id = "hours") => Pictures.HourStrip(hours, start, id).ToSvg();

    /// <summary>The deepest events side by side.</summary>
    public static string WorstEvents(RecordingSection section, int atMost = 6, string id = "events") => Pictures.WorstEvents(section, atMost, id).ToSvg();

    /// <summary>All falls: length against depth. "" below two falls.</summary>
    public static string Falls(RecordingSection section, string id = "falls") => Pictures.Falls(section, id).ToSvg();

    /// <summary>One plane of a settings map with the settings of a proposal marked.</summary>
    public static string SettingsMap(MapPicture picture, Proposal? proposal, string id = "map", IReadOnlyList<NamedEvidence>? askedAbout = null) => Pictures.SettingsMap(picture, proposal, id, askedAbout).ToSvg();

    /// <summary>Alarm load under each settings set, with intervals.</summary>
    public static string Loads(IReadOnlyList<LoadRow> rows, string id = "loads") => Pictures.Loads(rows, id).ToSvg();

    /// <summary>Load against the slowest signal of a must-catch event.</summary>
    public static string Front(SettingsSection section, string id = "front") => Pictures.Front(section, id).ToSvg();

    /// <summary>Alarm load of each patient, the loudest first.</summary>
    public static string Contributors(WardSection ward, string id = "contributors") => Pictures.Contributors(ward, id).ToSvg();

    /// <summary>One window of one recording: panels, gaps with their reasons, limits, events, review marks, alarm signals. The overview of the whole span is the same with a wide window.</summary>
    public static string Strip(StripModel model, StripView view, string id = "strip") => Pictures.Strip(model, view, id).ToSvg();

    /// <summary>Light and derived numbers over the whole recording. "" without a second of light.</summary>
    public static string LightOverview(LightSection section, string id = "light-whole") => Pictures.LightOverview(section, id).ToSvg();

    /// <summary>The same for the seconds that are most worth seeing, beat by beat.</summary>
    public static string LightDetail(LightSection section, string id = "light-detail") => Pictures.LightDetail(section, id).ToSvg();

    /// <summary>The truth of a rehearsal beside its screen, with the signals of the category's starting settings.</summary>
    public static string Rehearsal(RehearsalRun run, IReadOnlyList<ReplayedSignal> signals, string id = "rehearsal") => Pictures.Rehearsal(run, signals, id).ToSvg();

    /// <summary>A figure of this class in inks for a dark page of the ink <see cref="DarkPaper"/>.</summary>
    public static string InDark(string svg) => InkSet.Dark.Redrawn(svg);

    /// <summary>The paper that <see cref="InDark"/> is made for.</summary>
    public static string DarkPaper => InkSet.Dark.Shape(Ink.Paper);
}
