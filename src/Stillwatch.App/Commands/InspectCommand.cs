using System.CommandLine;
using Stillwatch.App.Jobs;
using Stillwatch.App.Json;
using Stillwatch.App.Pages;
using Stillwatch.App.Terminal;

namespace Stillwatch.App.Commands;

/// <summary><c>inspect FILE...</c></summary>
internal static class InspectCommand
{
    private static readonly Lesson Lesson = new(
        "What is in these files?",
        "Reads each file and lists its channels, its start as far as the file tells it, and everything odd that was met in "
        + "reading: where, what was found, what was expected and what was assumed. Nothing is repaired in silence. Begin here "
        + "with any new file, and check that the right column was taken for SpO2.",
        [("stillwatch inspect stillwatch-demo/patient-01-night-1.csv", "one night of the invented ward (after stillwatch demo)"),
         ("stillwatch inspect night.csv --map 'spo2=\"SpO2 4\",time=Time'", "a file whose columns need naming")],
        [("Rows, With a number", "rows of the channel, and how many of them hold a number (validSamples in JSON)"),
         ("Least, Greatest, Mean", "over the numbers present, before any validity rule: a dropout code such as 0 counts in them"),
         ("Rate", "the median step between rows; \"uneven\" where not every step equals it"),
         ("Start", "as far as the file tells it; an unknown date or zone stays unknown")],
        ["A number being present does not make it a saturation: motion, low perfusion and a sensor that came off leave numbers too."]);

    public static Command Create(Screen screen)
    {
        var files = SharedOptions.Paths("files", "FILE");
        var reading = new ReadingOptions(forRules: false);
        var json = SharedOptions.Json();
        var command = new Command("inspect", "What is in these files: channels, spans, everything odd") { files };
        reading.AddTo(command);
        command.Options.Add(json);
        TeachingHelp.Attach(command, Lesson, screen);
        command.SetAction(parsed =>
        {
            InspectModel model;
            using (var progress = new ProgressLine(screen))
            {
                var loaded = new RecordingLoader(reading.Of(parsed), progress).Load(parsed.GetRequiredValue(files));
                model = InspectModel.Of(loaded.Recordings, loaded.Unreadable);
            }

            if (parsed.GetValue(json)) JsonPage.Write(screen.Out, writer => InspectJson.Write(writer, model));
            else InspectPage.Write(new Page(screen), model);
            return (int)Outcome.Of(model.Unreadable, screen);
        });
        return command;
    }
}
