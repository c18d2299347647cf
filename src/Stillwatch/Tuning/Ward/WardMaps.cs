using Stillwatch.Time;
using Stillwatch.Tuning.Map;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.Tuning.Ward;

/// <summary>The settings maps of like recordings added up.</summary>
/// <param name="Group">What these recordings have in common; unlike ones stand in maps of their own (R14.7).</param>
/// <param name="Recordings">Their names.</param>
/// <param name="Patients">How many patients.</param>
/// <param name="Sum">The map of all of them.</param>
public sealed record WardMap(GroupKey Group, IReadOnlyList<string> Recordings, int Patients, SettingsMap Sum);

/// <summary>Maps add up over recordings, but only over like ones: different categories, averaging, oxygen or periods are listed apart.</summary>
public static class WardMaps
{
    /// <summary>One map per group of like recordings, in a fixed order; recordings without a row are left out.</summary>
    public static IReadOnlyList<WardMap> Draw(IReadOnlyList<PatientRecordings> patients, MapRequest request)
    {
        var drawn = new List<WardMap>();
        var groups = patients
            .SelectMany(p => p.Recordings.Select(r => (p.Patient, Recording: r, Key: GroupKey.Of(p.Category, r))))
            .Where(r => r.Recording.SpO2.Channel.Times.Count > 0)
            .GroupBy(r => r.Key).OrderBy(g => g.Key.Order);
        foreach (var group in groups)
        {
            var members = group.OrderBy(m => m.Patient, StringComparer.Ordinal).ThenBy(m => m.Recording.Name, StringComparer.Ordinal).ToList();
            var maps = members.ConvertAll(m => SettingsMap.Of(m.Recording.SpO2, request, m.Recording.MustCatch));
            drawn.Add(new WardMap(
                group.Key, members.ConvertAll(m => m.Recording.Name), members.Select(m => m.Patient).Distinct().Count(), SettingsMap.Sum(maps)));
        }

        return drawn;
    }
}
