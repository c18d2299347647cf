using System.Text;
using Stillwatch.App.Commands;
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

    [Fact]
    public void Alarms_among_the_annotations_of_a_WFDB_record_are_compared_with_the_replay()
    {
        WriteWfdb((5, "lights off"), (624, "SpO2 low"), (754, "SpO2 low end"), (4224, "SpO2 < 90"));
        var fidelity = Ran.With("review", folder["record.hea"], "--settings", folder["settings.json"], "--json").Json().GetProperty("fidelity");
        Assert.Equal("notes", fidelity.GetProperty("logFrom").GetString());
        var figure = fidelity.GetProperty("physiological");
        Assert.Equal((2, 3, 2), (figure.GetProperty("logged").GetInt32(), figure.GetProperty("replayed").GetInt32(), figure.GetProperty("matched").GetInt32()));
        Assert.Equal([624.0, 4224.0], fidelity.GetProperty("pairs").EnumerateArray().Select(p => p.GetProperty("loggedSeconds").GetDouble()));
        Assert.Equal("lights off", fidelity.GetProperty("notUnderstood")[0].GetProperty("text").GetString());
        var tuned = Ran.With("tune", folder["record.hea"], "--present", folder["settings.json"], "--limits", "85..90/5", "--delays", "0..15/15", "--json").Json();
        Assert.Equal(2, tuned.GetProperty("fidelity").GetProperty("physiological").GetProperty("matched").GetInt32());
    }

    [Theory]
    [InlineData("ours.edf")]
    [InlineData("ours.bdf")]
    [InlineData("ours.parquet")]
    [InlineData("ours.csv")]
    [InlineData("ours.json")]
    public void Signals_that_we_exported_ourselves_are_no_log_of_the_monitor(string name)
    {
        WriteEdf("night.edf");
        Assert.Equal(ExitCode.Done, Ran.With("export", folder["night.edf"], "--to", folder[name], "--settings", folder["settings.json"]).ExitCode);
        var ran = Ran.With("review", folder[name], "--settings", folder["settings.json"], "--json");
        Assert.Equal(ExitCode.Done, ran.ExitCode);
        Assert.Equal(3, ran.Json().GetProperty("signals").GetArrayLength());
        Assert.False(ran.Json().TryGetProperty("fidelity", out _));
    }

    private Ran Review(params string[] more) => Ran.With(["review", folder["night.edf"], "--settings", folder["settings.json"], .. more]);

    // The same falls. Header and format 16: header(5) and signal(5); annotations: annot(5), "MIT format": words of 6 bits of type and 10 bits of
    // interval, SKIP (59) before a longer one, its high half first, and AUX (63) with the text, padded to an even length. All of physionet.org/physiotools/wag.
    private void WriteWfdb(params (int At, string Text)[] notes)
    {
        const int seconds = 10800, note = 22, skip = 59, aux = 63;
        folder.Write("record.hea", $"record 2 1 {seconds} 22:00:00 02/03/2026\nrecord.dat 16 1(0)/% 16 0 95 0 0 SpO2\nrecord.dat 16 1(0)/bpm 16 0 72 0 0 PULSE\n");
        using var samples = new MemoryStream();
        for (int t = 0; t < seconds; t++) samples.Write([(byte)(t % 3600 is >= 600 and < 740 ? 78 : 95), 0, 72, 0]);
        File.WriteAllBytes(folder["record.dat"], samples.ToArray());

        using var annotations = new MemoryStream();
        int last = 0;
        foreach (var (at, text) in notes)
        {
            int interval = at - last;
            if (interval > 1023)
            {
                Word(skip << 10);
                Word(interval >> 16);
                Word(interval & 0xFFFF);
                interval = 0;
            }

            Word(note << 10 | interval);
            Word(aux << 10 | text.Length);
            annotations.Write(Encoding.ASCII.GetBytes(text.Length % 2 == 0 ? text : text + "\0"));
            last = at;
        }

        Word(0);
        File.WriteAllBytes(folder["record.atr"], annotations.ToArray());

        void Word(int value) => annotations.Write([(byte)(value & 0xFF), (byte)(value >> 8)]);
    }

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
