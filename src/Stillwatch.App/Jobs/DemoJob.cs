using Stillwatch.App.Commands;
using Stillwatch.App.Terminal;
using Stillwatch.Conditioning;
using Stillwatch.Formats;
using Stillwatch.Rehearsal;
using Stillwatch.Tuning.Map;

namespace Stillwatch.App.Jobs;

/// <summary>The whole job on an invented ward: writes its files, reads them back, and takes the same roads as the other commands.</summary>
internal static class DemoJob
{
    /// <summary>The recording that is looked back over: trains of short dips and deep long ones.</summary>
    private const int ReviewedRecording = DemoWriter.LoggedNight;

    /// <exception cref="StopException">Exit code 3: the folder cannot be written.</exception>
    public static DemoModel Run(RehearsalWard ward, string folder, ProgressLine progress)
    {
        progress.Report("writing an invented ward", 0, 0);
        var files = Written(ward, folder);
        var side = SideFiles.Read(settings: null, files.Present, files.MustCatch, marks: null);
        var loaded = new RecordingLoader(new ReadingChoices(ColumnMap.Empty, Channel: null, Category: null), progress).Load([folder]);
        var request = new MapRequest(LimitSide.Low, MapGrid.SpO2Default, ClearMarginMicro: 0, Backstop: null, ConditioningSettings.Default);
        var tuned = new TuneJob(request, side, progress).Run(loaded);
        var reviewed = loaded.Recordings[ReviewedRecording];
        var model = new DemoModel(
            files,
            ward.Seed,
            InspectModel.Of([reviewed], []),
            ReviewJob.Of(reviewed, ConditioningSettings.Default, side with { Settings = side.Present }),
            WardJob.Of(loaded, tuned.Recordings, tuned.NotComputable, tuned.Present!, WardSettingsOrigin.Present),
            tuned);
        progress.Report("writing the report", 0, 0);
        ReportJob.Write(files.Report, ReportJob.Of(tuned, model.Ward, side));
        return model;
    }

    private static DemoFiles Written(RehearsalWard ward, string folder)
    {
        try
        {
            return DemoWriter.Write(ward, folder);
        }
        catch (Exception e) when ((e is AggregateException { InnerException: { } inner } ? inner : e) is IOException or UnauthorizedAccessException)
        {
            throw StopException.Unreadable(new Trouble($"cannot write into {folder}", e.Message, "a folder that may be written", folder, "it belongs to another account, or a file stands in its place; name another with --folder"), e);
        }
    }
}
