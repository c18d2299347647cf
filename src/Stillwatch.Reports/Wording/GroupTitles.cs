using Stillwatch.Reports.Model;
using Stillwatch.Signals;

namespace Stillwatch.Reports.Wording;

/// <summary>Short names for groups of like patients: the category, and the full description only where that is not enough.</summary>
internal static class GroupTitles
{
    public static string Of(SettingsSection section, IReadOnlyList<SettingsSection> all)
    {
        bool isAlone = section.Category != PatientCategory.Unknown && all.Count(s => s.Category == section.Category) == 1;
        string title = isAlone ? Words.Of(section.Category, section.IsCategoryAssumed) : section.Group;
        return title.Length > 0 ? char.ToUpperInvariant(title[0]) + title[1..] : "Group";
    }
}
