using Stillwatch.Reports.Model;

namespace Stillwatch.Reports.Page;

/// <summary>What a report is not for. Said where the answers stand, and again in full at the end.</summary>
internal static class Cautions
{
    private const string NotForOthers = "Not to be used for a child, a neonate or a patient with a lower prescribed target.";

    public const string Short =
        "Evidence for looking back, not a primary alarm and not for diagnosis. Local policy, the prescription and licensed clinicians decide; nothing has been changed on any monitor.";

    /// <summary>Null where every category was named.</summary>
    public static string? AdultAssumed(ReportModel model)
    {
        int assumed = model.Recordings.Count(r => r.IsCategoryAssumed);
        if (assumed == 0 && !model.Settings.Any(s => s.IsCategoryAssumed)) return null;
        string of = assumed == 0 || assumed == model.Recordings.Count ? "" : $" for {assumed} of {model.Recordings.Count} recordings";
        return $"Category not given{of}: an adult was assumed. {NotForOthers}";
    }

    public static readonly IReadOnlyList<string> Full =
    [
        "This report looks back over recordings. It is not a bedside monitor and not a primary alarm, and it must not be used to watch a patient.",
        "It is not for diagnosis. SpO2 can be wrong in movement, poor perfusion, dyshaemoglobins, dark skin or nail varnish, and a recording does not show the patient.",
        "Proposed settings are evidence for a discussion. Local policy, the prescription and licensed clinicians decide. Nothing is applied by itself.",
        "What settings would have signalled is computed from the recorded values by the rules printed here. A monitor that averages or judges its signal in another way may signal at other moments.",
        "Staff answered the alarms that sounded, so the recorded events may be shorter than they would have been without those alarms.",
    ];
}
