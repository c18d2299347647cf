using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.Proposals;

namespace Stillwatch.App.Files;

/// <summary>What is known of a recording beyond its file: whose it is, and what must match before two may be pooled.</summary>
/// <param name="File">The file's name inside the folder.</param>
/// <param name="Patient">A pseudonym; never a name.</param>
/// <param name="Category">The patient category.</param>
/// <param name="SourceAveraging">The source's own averaging.</param>
/// <param name="Oxygen">Supplemental oxygen or air.</param>
/// <param name="AlarmLog">The name of the list of what the monitor itself signalled meanwhile, in the same folder; null: none.</param>
public sealed record ManifestEntry(string File, string Patient, CategoryChoice Category, SourceAveraging SourceAveraging, OxygenStatus Oxygen, string? AlarmLog = null);

/// <summary>
/// <c>ward.json</c> beside a folder's recordings. Without it each file is a patient of its own, of the category named by
/// <c>--category</c>, with source averaging and oxygen not known.
/// </summary>
public sealed record WardManifest(string Path, string? Note, bool IsInvented, IReadOnlyList<ManifestEntry> Recordings)
{
    public const string FileName = "ward.json";
    public const string Format = "stillwatch.ward/1";

    public static readonly IReadOnlyDictionary<string, OxygenStatus> OxygenNames = new Dictionary<string, OxygenStatus>
    {
        ["not-known"] = OxygenStatus.Unknown,
        ["air"] = OxygenStatus.OnAir,
        ["oxygen"] = OxygenStatus.OnOxygen,
    };

    public static string NameOf(OxygenStatus oxygen) => OxygenNames.First(o => o.Value == oxygen).Key;

    public ManifestEntry? Find(string fileName) => Recordings.FirstOrDefault(r => r.File == fileName);

    /// <summary>The manifest of a folder; null where it has none.</summary>
    public static WardManifest? OfFolder(string folder)
    {
        string path = System.IO.Path.Combine(folder, FileName);
        return File.Exists(path) ? Read(path) : null;
    }

    public static WardManifest Read(string path)
    {
        var root = SideFile.Open(path, Format).Root.WithOnly("format", "note", "invented", "recordings");
        var entries = new List<ManifestEntry>();
        foreach (var field in root.Required("recordings").List())
        {
            var entry = EntryOf(field);
            if (entries.Any(e => e.File == entry.File))
                throw field.Required("file").Wrong($"\"{entry.File}\" a second time", "each file once", "an entry was copied and not changed");
            var same = entries.FirstOrDefault(e => e.Patient == entry.Patient);
            if (same is not null && same.Category.Name != entry.Category.Name)
                throw field.Required("category").Wrong($"{entry.Category.Name} for patient {entry.Patient}", $"{same.Category.Name}, as for {same.File}", "one pseudonym was given to two patients");
            entries.Add(entry);
        }

        return new WardManifest(path, root.Optional("note")?.Text(), root.Optional("invented")?.YesOrNo() ?? false, entries);
    }

    private static ManifestEntry EntryOf(SideFileField field)
    {
        field.WithOnly("file", "patient", "category", "sourceAveragingSeconds", "oxygen", "alarmLog");
        string name = FileNameOf(field.Required("file"));
        string? alarmLog = field.Optional("alarmLog") is { } log ? FileNameOf(log) : null;
        if (alarmLog == name)
            throw field.Required("alarmLog").Wrong($"\"{name}\"", "another file than the recording", "an entry was copied and not changed");
        return new ManifestEntry(
            name,
            field.Required("patient").Text(),
            CategoryChoice.Of(field.Required("category")),
            field.Optional("sourceAveragingSeconds") is { } averaging ? new SourceAveraging(Duration.FromSeconds(averaging.Number(0, 3600, "s"))) : SourceAveraging.Unknown,
            field.Optional("oxygen")?.Choice(OxygenNames) ?? OxygenStatus.Unknown,
            alarmLog);
    }

    private static string FileNameOf(SideFileField field)
    {
        string name = field.Text();
        if (name.Length == 0 || name != System.IO.Path.GetFileName(name))
            throw field.Wrong($"\"{name}\"", "a file name without folders", "the file lies elsewhere; the manifest speaks of its own folder only");
        return name;
    }
}
