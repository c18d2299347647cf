using Stillwatch.Alarms;
using Stillwatch.Signals;

namespace Stillwatch.App.Files;

/// <summary>A patient category as named on the command line and in side files, with its preset.</summary>
/// <param name="Preset">Starting settings and search bounds.</param>
/// <param name="IsAssumed">Nobody named a category: adult was taken, and every output says so.</param>
public sealed record CategoryChoice(CategoryPreset Preset, bool IsAssumed = false)
{
    public static readonly CategoryChoice AssumedAdult = new(CategoryPresets.Adult, IsAssumed: true);

    public string Name => Preset.Name;

    public PatientCategory Category => Preset.Category;

    /// <summary>For sentences: "Adult without a lower prescribed target (assumed: no category was given)".</summary>
    public string Words => IsAssumed ? $"{Preset.Describes} (assumed: no category was given)" : Preset.Describes;

    public static CategoryChoice Of(SideFileField field)
    {
        string name = field.Text();
        return CategoryPresets.TryParse(name, out var preset)
            ? new CategoryChoice(preset!)
            : throw field.Wrong($"\"{name}\"", "one of " + string.Join(", ", CategoryPresets.Names), "a category by another name; paediatric needs an age");
    }
}
