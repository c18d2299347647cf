using System.Text;
using Stillwatch.App.Tests.Running;

namespace Stillwatch.App.Tests;

/// <summary>A recording that brings its monitor's alarms along as notes (EDF+, made here after the published format), and one whose notes are something else.</summary>
public sealed class AlarmNotesTests : IDisposable
{
    private const int RecordSeconds = 60;
    private const int NoteBytes = 240;

    private readonly Folder folder = new();

    public AlarmNotesTests() => folder.Write("settings.json", """
        { "format": "stillwatch.settings/1", "settings": [ { "name": "in force", "spo2Low": { "limit": 90, "delaySeconds": 15 } } ] }
        """);

    public void Dispose() => folder.Dispose();

    [Fact]
    public void Alarms_among_the_notes_of_an_EDF_file_are_compared_with_the_replay_and_the_page_says_so()
    {
        WriteEdf("night.edf", (624, 130, "SpO2 low"), (4224, 0, "SpO2 < 90"), (4350, 0, "SpO2 low end"), (5000, 0, "lights off"));
        var fidelity = Review("--json").Json().GetProperty("fidelity");
        Assert.Equal("notes", fidelity.GetProperty("logFrom").GetString());
        var figure = fidelity.GetProperty("physiological");
        Assert.Equal((2, 3, 2), (figure.GetProperty("logged").GetInt32(), figure.GetProperty("replayed").GetInt32(), figure.GetProperty("matched").GetInt32()));
        Assert.Equal("lights off", fidelity.GetProperty("notUnderstood")[0].GetProperty("text").GetString());
        Assert.Contains("(the recording's own notes; --log none leaves them aside)", Review().Words, StringComparison.Ordinal);
        Assert.DoesNotContain("own notes", Review("--log", "none").Words, StringComparison.Ordinal);
    }

    [Fact]
    public void Notes_that_hold_no_alarm_are_no_log()
    {
        WriteEdf("night.edf", (624, 130, "Oxygen desaturation"), (700, 0, "movement"), (5000, 0, "lights off"));
        Assert.False(Review("--json").Json().TryGetProperty("fidelity", out _));
    }

    private Ran Review(params string[] more) => Ran.With(["review", folder["night.edf"], "--settings", folder["settings.json"], .. more]);

    // Three hours with a fall to 78 % in each. EDF+: Kemp and Olivan, Clin Neurophysiol 2003;114:1755 (from memory); www.edfplus.info.
    private void WriteEdf(string name, params (int Onset, int Seconds, string Text)[] notes)
    {
        const int records = 180;
        var file = new MemoryStream();
        Field("0", 8);
        Field("X X X X", 80);
        Field("Startdate 02-MAR-2026 X X X", 80);
        Field("02.03.26", 8);
        Field("22.00.00", 8);
        Field("768", 8);
        Field("EDF+C", 44);
        Field($"{records}", 8);
        Field($"{RecordSeconds}", 8);
        Field("2", 4);
        foreach (var (first, second, width) in new[]
                 {
                     ("SpO2", "EDF Annotations", 16), ("", "", 80), ("%", "", 8), ("0", "-1", 8), ("100", "1", 8), ("0", "-32768", 8), ("100", "32767", 8),
                     ("", "", 80), ($"{RecordSeconds}", $"{NoteBytes / 2}", 8), ("", "", 32),
                 })
        {
            Field(first, width);
            Field(second, width);
        }

        for (int r = 0; r < records; r++)
        {
            for (int s = 0; s < RecordSeconds; s++) file.Write([(byte)((r * RecordSeconds + s) % 3600 is >= 600 and < 740 ? 78 : 95), 0]);
            var text = new StringBuilder($"+{r * RecordSeconds}\u0014\u0014\0");
            foreach (var note in notes.Where(n => n.Onset / RecordSeconds == r))
                text.Append($"+{note.Onset}{(note.Seconds > 0 ? $"\u0015{note.Seconds}" : "")}\u0014{note.Text}\u0014\0");
            file.Write(Encoding.ASCII.GetBytes(text.ToString().PadRight(NoteBytes, '\0')));
        }

        File.WriteAllBytes(folder[name], file.ToArray());

        void Field(string value, int width) => file.Write(Encoding.ASCII.GetBytes(value.PadRight(width)));
    }
}
