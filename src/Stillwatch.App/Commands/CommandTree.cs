using System.CommandLine;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary>All commands of the program.</summary>
internal static class CommandTree
{
    private static readonly Lesson Root = new(
        "Which alarm settings keep every significant event and still let the ward rest?",
        "Stillwatch reads recordings that pulse oximetry monitors gave out, says what is in them and what happened, replays any "
        + "alarm settings over them, and looks for settings that would have kept every must-catch event with fewer signals; or "
        + "says honestly why it cannot. It derives numbers from light, and rehearses on invented patients whose truth is known. Recordings are only read, never changed.",
        [("stillwatch demo", "the whole job on an invented ward, in under half a minute"),
         ("stillwatch inspect my-night.csv", "begin here with a file of your own")],
        [("alarm load", "signals, and minutes of signal, per patient-day; physiological and technical apart"),
         ("must-catch event", "an event that settings may not miss: by definition, or by a reviewer's mark"),
         ("settings map", "the load over every limit and delay, with missed and late must-catch events on top")],
        ["Demo data are invented.", "Rehearsals are invented. Numbers that derive makes of light are not a monitor's."]);

    public static RootCommand Build(Screen screen)
    {
        var root = new RootCommand(Root.Question);
        root.Subcommands.Add(InspectCommand.Create(screen));
        root.Subcommands.Add(ReviewCommand.Create(screen));
        root.Subcommands.Add(TuneCommand.Create(screen));
        root.Subcommands.Add(WardCommand.Create(screen));
        root.Subcommands.Add(ReportCommand.Create(screen));
        root.Subcommands.Add(ExportCommand.Create(screen));
        root.Subcommands.Add(DeriveCommand.Create(screen));
        root.Subcommands.Add(RehearseCommand.Create(screen));
        root.Subcommands.Add(ImportCommand.Create(screen));
        root.Subcommands.Add(ServeCommand.Create(screen));
        root.Subcommands.Add(BackupCommand.Create(screen));
        root.Subcommands.Add(RestoreCommand.Create(screen));
        root.Subcommands.Add(AuditCommand.Create(screen));
        root.Subcommands.Add(DemoCommand.Create(screen));
        TeachingHelp.Attach(root, Root, screen);
        return root;
    }
}
