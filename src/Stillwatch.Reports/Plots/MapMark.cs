using Stillwatch.Quantities;
using Stillwatch.Reports.Drawing;
using Stillwatch.Reports.Model;
using Stillwatch.Reports.Wording;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Reports.Plots;

internal enum MapMarkKind
{
    Present,
    Proposed,
    LookedAt,
}

/// <summary>Settings to be marked on a map, and whether that plane can show them at all.</summary>
internal sealed record MapMark(MapMarkKind Kind, CandidateEvidence Evidence, string? Name = null)
{
    public CandidateSettings Settings => Evidence.Settings;

    public string Word => Kind switch
    {
        MapMarkKind.Present => "present",
        MapMarkKind.Proposed => "proposed",
        _ => SettingsWords.Quoted(Name ?? ""),
    };

    public string Label => $"{Word}: {SettingsWords.Short(Settings.SpO2Low)}";

    private string Noun => Kind switch
    {
        MapMarkKind.Present => "The present settings",
        MapMarkKind.Proposed => "The proposed settings",
        _ => $"The settings {SettingsWords.Quoted(Name ?? "")}",
    };

    /// <summary>Present, proposed, and those asked about. What was refused has no mark: it would look proposed.</summary>
    public static IReadOnlyList<MapMark> Of(Proposal? proposal, IReadOnlyList<NamedEvidence>? askedAbout = null)
    {
        var marks = new List<MapMark>();
        if (proposal?.Present is { } present) marks.Add(new MapMark(MapMarkKind.Present, present));
        if (proposal is { Chosen: { } chosen, IsRefused: false }) marks.Add(new MapMark(MapMarkKind.Proposed, chosen));
        marks.AddRange((askedAbout ?? []).Select(a => new MapMark(MapMarkKind.LookedAt, a.Evidence, a.Name)));
        return marks;
    }

    /// <summary>Where on the second axis; null where these settings are not on this plane.</summary>
    public double? ThresholdOn(MapPicture picture)
    {
        var low = Settings.SpO2Low;
        double? at = picture.Threshold switch
        {
            MapThreshold.Delay when low.AreaThreshold == Area.Zero => low.Delay.Seconds,
            MapThreshold.Area when low.Delay == Duration.Zero => (double)low.AreaThreshold.Value,
            _ => null,
        };
        bool inside = picture.Limits.Count > 0 && picture.Thresholds.Count > 0
            && low.Limit >= picture.Limits[0] && low.Limit <= picture.Limits[^1] && at >= picture.Thresholds[0] && at <= picture.Thresholds[^1];
        return inside ? at : null;
    }

    /// <summary>Why a mark is missing, or why the cell under it is not quite its load; null: all is well.</summary>
    public string? Remark(MapPicture picture)
    {
        if (ThresholdOn(picture) is null)
        {
            return $"{Noun} ({SettingsWords.Short(Settings.SpO2Low)}) do not lie on this map, which has "
                + (picture.Threshold == MapThreshold.Delay ? "no area threshold." : "no delay.");
        }

        var differences = new List<string>();
        if (Settings.Averaging != picture.Conditioning.Averaging) differences.Add(Settings.Averaging > Duration.Zero ? $"averaging over {Words.Span(Settings.Averaging)}" : "no averaging of ours");
        if (Settings.SpO2Low.ClearMargin != picture.ClearMargin) differences.Add($"a clear margin of {Words.Points(Settings.SpO2Low.ClearMargin)}");
        if (Settings.Backstop != picture.Backstop) differences.Add(Settings.Backstop is { } b ? $"a {SettingsWords.Backstop(b)}" : "no backstop");
        return differences.Count == 0 ? null
            : $"{Noun} also have {string.Join(", ", differences)}, which this map is not drawn with; their own numbers stand under “Alarm load before and after”.";
    }
}
