using Stillwatch.App.Commands;
using Stillwatch.App.Json;
using Stillwatch.Formats;
using Stillwatch.Formats.Exports;
using Stillwatch.Rehearsal;
using Stillwatch.Rehearsal.Scenarios;
using Stillwatch.Rehearsal.Sensor;
using Stillwatch.Replay;
using Stillwatch.Signals;
using Stillwatch.Time;

namespace Stillwatch.App.Jobs;

/// <summary>From a scenario to files that say of themselves that they are invented.</summary>
internal static class RehearseJob
{
    // The most that 16 bits of EDF+ hold without rounding; see OpticalSensorSettings.Bits.
    private const int BitsOfEdf = 15;

    /// <exception cref="StopException">Exit code 2: no format ends so, a file stands there, or two of the files are one.</exception>
    public static (IRecordingWriter Recording, IRecordingWriter? Truth) CheckTargets(RehearseRequest request, string? report)
    {
        var recording = ExportFiles.CheckTarget(request.To, request.Replace, []);
        var truth = request.Truth is null ? null : ExportFiles.CheckTarget(request.Truth, request.Replace, [request.To, request.To + ExportManifest.Suffix], "--truth");
        string[] taken = [request.To, request.To + ExportManifest.Suffix, .. request.Truth is null ? Array.Empty<string>() : [request.Truth, request.Truth + ExportManifest.Suffix]];
        if (report is not null && taken.FirstOrDefault(t => ExportFiles.IsSame(t, report)) is { } same)
            throw StopException.Usage(new Trouble("the report would replace another file of this command", same, "another file", "--report", "the order of the words was mixed up"));
        return (recording, truth);
    }

    /// <exception cref="StopException">Exit code 3: a file cannot be written; 4: a format cannot hold it.</exception>
    public static RehearseModel Run(RehearseRequest request, (IRecordingWriter Recording, IRecordingWriter? Truth) writers)
    {
        var scenario = request.Scenario;
        int seconds = request.Minutes is { } minutes ? Math.Min(scenario.DurationSeconds, (int)Math.Round(minutes * 60)) : scenario.DurationSeconds;
        var run = scenario.Run(request.Seed, seconds);
        var light = request.WithLight ? LightOf(run, writers.Recording).Channels : [];
        var recording = run.Numerics with { Channels = [.. run.Numerics.Channels.Concat(light).Select(InventedData.Labelled)], Annotations = [request.WithLight ? WithCurve(InventedNote(run), SensorOf(run, writers.Recording)) : InventedNote(run)] };
        var files = new List<PlannedFile> { Planned(run, request.To, writers.Recording, recording, isTruth: false) };
        if (request.Truth is { } truthPath)
        {
            var truth = run.Truth with { Annotations = [InventedNote(run), .. run.Episodes.Select(e => new Annotation(e.Span.Start, e.Span.Length, $"truth: {e.Kind.InWords()} (invented)"))] };
            files.Add(Planned(run, truthPath, writers.Truth!, truth, isTruth: true));
        }

        var written = ExportFiles.Write(files, request.Replace);
        return new RehearseModel
        {
            Request = request,
            Run = run,
            Signals = Replayer.Run(run.Numerics, scenario.Preset.ToSettings()).Signals,
            Recording = Of(files[0], written[0]),
            Truth = files.Count > 1 ? Of(files[1], written[1]) : null,
        };
    }

    private static RehearsedFile Of(PlannedFile planned, WrittenFile written) => new(planned.To, planned.Writer.Format, planned.Recording, written.Output, written.Issues);

    private static Annotation InventedNote(RehearsalRun run) => new(
        default, Duration.FromSeconds(run.Seconds), $"{InventedData.Notice}; scenario \"{run.Scenario.Name}\", seed {run.Seed}; for teaching and tests, no evidence about anyone");

    private static Annotation WithCurve(Annotation note, OpticalSensorSettings sensor) => note with { Text = $"{note.Text}; {RehearsedCurve.Note(sensor)}" };

    private static Recording LightOf(RehearsalRun run, IRecordingWriter writer) => RehearsalLight.Record(run.Patient, run.Sensor, SensorOf(run, writer), run.Seed).Recording;

    private static OpticalSensorSettings SensorOf(RehearsalRun run, IRecordingWriter writer)
    {
        var settings = run.Scenario.Category is PatientCategory.NeonatalOnOxygen or PatientCategory.NeonatalOnAir ? OpticalSensorSettings.Newborn : OpticalSensorSettings.Default;
        return writer.Extension == ".edf" ? settings with { Bits = BitsOfEdf } : settings;
    }

    private static PlannedFile Planned(RehearsalRun run, string to, IRecordingWriter writer, Recording recording, bool isTruth) => new(to, writer, recording, (output, issues) => new ExportManifest
    {
        Software = ExportFiles.Software,
        Inputs = [],
        Output = output,
        OutputFormat = writer.Format,
        Recording = recording,
        IsInvented = true,
        Issues = issues,
        More = json => json.Object("rehearsal", () =>
        {
            json.WriteString("name", run.Scenario.Name);
            json.WriteString("title", run.Scenario.Title);
            json.WriteNumber("seed", run.Seed);
            json.WriteBoolean("isTruth", isTruth);
        }),
        Caution = $"{RehearsalScenario.Caution} {Lesson.Caution}",
    });
}
