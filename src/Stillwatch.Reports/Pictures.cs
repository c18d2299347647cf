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

/// <summary>The figures as pictures, which can be drawn as SVG, PNG or on a page of a PDF. Each is empty when there is nothing to draw.</summary>
/// <remarks><c>id</c> must be unique among the figures of one page and made of letters, digits and hyphens.</remarks>
public static class Pictures
{
    /// <summary>The whole recording: SpO2 with limits, events, signals under present and proposed settings, pulse rate.</summary>
    public static Picture Overview(RecordingSection section, string id = "overview") => OverviewPlot.Draw(section, id);

    /// <summary>SpO2 alone, small enough for a line of a table.</summary>
    public static Picture NightStrip(RecordingSection section, string id = "night") => NightStripPlot.Draw(section, id);

    /// <summary>Time at each whole percent, with the low limit of the settings where there is one.</summary>
    public static Picture ExposureHistogram(Exposure exposure, AlarmSettings? present = null, string id = "histogram", string? replayedName = null) =>
        HistogramPlot.Draw(exposure, present, SettingsWords.LowLimitOf(replayedName), id);

    /// <summary>Minutes below each level, hour by hour.</summary>
    public static Picture HourStrip(IReadOnlyList<HourSummary> hours, RecordingStart start, string id = "hours") => HourStripPlot.Draw(hours, start, id);

    /// <summary>The deepest events side by side.</summary>
    public static Picture WorstEvents(RecordingSection section, int atMost = 6, string id = "events") => EventsPlot.Draw(section, atMost, id);

    /// <summary>All falls: length against depth. "" below two falls.</summary>
    public static Picture Falls(RecordingSection section, string id = "falls") => FallsPlot.Draw(section, id);

    /// <summary>One plane of a settings map with the settings of a proposal marked.</summary>
    public static Picture SettingsMap(MapPicture picture, Proposal? proposal, string id = "map", IReadOnlyList<NamedEvidence>? askedAbout = null) =>
        MapPlot.Draw(picture, MapMark.Of(proposal, askedAbout), id);

    /// <summary>Alarm load under each settings set, with intervals.</summary>
    public static Picture Loads(IReadOnlyList<LoadRow> rows, string id = "loads") => LoadPlot.Draw(rows, id);

    /// <summary>Load against the slowest signal of a must-catch event.</summary>
    public static Picture Front(SettingsSection section, string id = "front") => FrontPlot.Draw(section, id);

    /// <summary>Alarm load of each patient, the loudest first.</summary>
    public static Picture Contributors(WardSection ward, string id = "contributors") => ContributorsPlot.Draw(ward, id);

    /// <summary>One window of one recording: panels, gaps with their reasons, limits, events, review marks, alarm signals. The overview of the whole span is the same with a wide window.</summary>
    public static Picture Strip(StripModel model, StripView view, string id = "strip") => StripPlot.Draw(model, view, id);

    /// <summary>Light and derived numbers over the whole recording. "" without a second of light.</summary>
    public static Picture LightOverview(LightSection section, string id = "light-whole") => LightPlot.Whole(section, id);

    /// <summary>The same for the seconds that are most worth seeing, beat by beat.</summary>
    public static Picture LightDetail(LightSection section, string id = "light-detail") =>
        DetailStrip.Of(section.Derived) is { } strip ? LightPlot.Detail(section, strip.Span, id) : Picture.None;

    /// <summary>The truth of a rehearsal beside its screen, with the signals of the category's starting settings.</summary>
    public static Picture Rehearsal(RehearsalRun run, IReadOnlyList<ReplayedSignal> signals, string id = "rehearsal") => RehearsalPlot.Draw(run, signals, id);
}
