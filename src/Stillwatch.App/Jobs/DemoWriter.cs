using System.Text;
using System.Text.Json;
using Stillwatch.Alarms;
using Stillwatch.App.Files;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.Formats.Csv;
using Stillwatch.Rehearsal;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.App.Jobs;

/// <summary>The files of the invented ward: recordings, ward.json, the settings in force, the must-catch definitions.</summary>
/// <param name="Folder">Where they lie.</param>
/// <param name="Recordings">File names, in order.</param>
public sealed record DemoFiles(string Folder, IReadOnlyList<string> Recordings)
{
    public const string PresentName = "present-settings.json";
    public const string MustCatchName = "must-catch.json";
    public const string ReportName = "report.html";

    public string Present => Path.Combine(Folder, PresentName);

    public string MustCatch => Path.Combine(Folder, MustCatchName);

    public string Report => Path.Combine(Folder, ReportName);

    public string Recording(int index) => Path.Combine(Folder, Recordings[index]);
}

/// <summary>Writes the invented ward; the same seed gives the same bytes.</summary>
internal static class DemoWriter
{
    /// <summary>The night that has a log, the one that the demonstration looks back over.</summary>
    public const int LoggedNight = 4;

    private static readonly Duration MonitorAverages = Duration.FromSeconds(8);

    private const string Note = "Invented data from a rehearsal with a known truth. They show no real patient and are no evidence about any.";

    public static DemoFiles Write(RehearsalWard ward, string folder)
    {
        Directory.CreateDirectory(folder);
        var nights = ward.Patients.SelectMany(p => p.Nights.Select(n => (Patient: p, Night: n, File: n.Recording.Name + ".csv"))).ToList();
        Parallel.ForEach(nights, n => WriteText(Path.Combine(folder, n.File), writer => CsvWriter.Write(n.Night.Recording, writer)));
        var logged = nights[LoggedNight];
        WriteText(Path.Combine(folder, LogNameOf(logged.Night)), writer => WriteLog(logged.Night.Recording, PresetOf(logged.Patient), writer));
        WriteJson(Path.Combine(folder, WardManifest.FileName), WardManifest.Format, json =>
        {
            json.WriteBoolean("invented", true);
            json.List("recordings", nights, n => json.Object(() =>
            {
                json.WriteString("file", n.File);
                json.WriteString("patient", n.Patient.Key);
                json.WriteString("category", n.Patient.Profile.CategoryName);
                json.WriteNumber("sourceAveragingSeconds", n.Patient.Profile.SourceAveragingSeconds);
                json.WriteString("oxygen", n.Patient.Profile.Oxygen);
                if (n == logged) json.WriteString("alarmLog", LogNameOf(n.Night));
            }));
        });
        var presets = ward.Patients.Select(PresetOf).DistinctBy(p => p.Name).ToList();
        var files = new DemoFiles(folder, [.. nights.Select(n => n.File)]);
        WriteJson(files.Present, SettingsFile.Format, json => json.List("settings", presets, p => json.Object(() =>
        {
            json.WriteString("name", $"In force on the invented ward: {p.Describes}");
            json.WriteString("category", p.Name);
            json.SettingsBody(PresentOf(p));
        })));
        WriteJson(files.MustCatch, MustCatchFile.Format, json => json.List("definitions", presets, p => json.Object(() => Definition(json, p))));
        return files;
    }

    private static CategoryPreset PresetOf(RehearsalPatient patient) =>
        CategoryPresets.TryParse(patient.Profile.CategoryName, out var preset) ? preset! : throw new InvalidOperationException($"The invented ward names a category that does not exist: {patient.Profile.CategoryName}.");

    private static string LogNameOf(RehearsalNight night) => night.Recording.Name + "-alarms.csv";

    /// <summary>What an invented monitor signalled that averages longer than anyone told: the engine's signals under that averaging, a row each.</summary>
    private static void WriteLog(Recording recording, CategoryPreset preset, StreamWriter writer)
    {
        var present = PresentOf(preset);
        var monitor = present with { SpO2Conditioning = present.SpO2Conditioning with { Averaging = MonitorAverages } };
        writer.WriteLine("Start,End,Alarm,Priority");
        foreach (var signal in Replayer.Run(recording, monitor).Signals)
            writer.WriteLine($"{ClockOf(recording, signal.Start)},{ClockOf(recording, signal.End)},{Say.Condition(signal.Condition)},{Shapes.Name(signal.HighestPriority)}");
    }

    private static string ClockOf(Recording recording, SampleTime time) =>
        recording.Start is RecordingStart.Local local ? local.DateTime.AddMilliseconds(time.Milliseconds).ToString("yyyy-MM-ddTHH:mm:ss.fff") : $"{time.Seconds:0.###}";

    /// <summary>Settings as found on many wards before anyone looked: the preset's limits with a short delay and a backstop.</summary>
    private static AlarmSettings PresentOf(CategoryPreset preset)
    {
        var settings = preset.ToSettings();
        return settings with { SpO2Low = settings.SpO2Low! with { Delay = Duration.FromSeconds(5) } };
    }

    private static void Definition(Utf8JsonWriter json, CategoryPreset preset)
    {
        var definition = MustCatchDefinitions.For(preset.Category);
        json.WriteString("name", definition.Name);
        json.WriteString("category", preset.Name);
        json.WriteString("source", definition.Source);
        json.List("lines", definition.Lines, line => json.Object(() =>
        {
            json.Number("level", (double)line.Level.Value);
            json.WriteString("comparison", line.Inclusive ? "atOrBelow" : "below");
            json.Seconds("forSeconds", line.AtLeast);
        }));
    }

    private static void WriteJson(string path, string format, Action<Utf8JsonWriter> content) => WriteText(path, writer => JsonPage.Write(writer, json =>
    {
        json.WriteString("format", format);
        json.WriteString("note", Note);
        content(json);
    }));

    private static void WriteText(string path, Action<StreamWriter> content)
    {
        using var writer = new StreamWriter(path, append: false, new UTF8Encoding(encoderShouldEmitUTF8Identifier: false)) { NewLine = "\n" };
        content(writer);
    }
}
