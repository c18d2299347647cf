using Stillwatch.Signals;
using Stillwatch.Storage.Recordings;
using Stillwatch.Storage.Tests.Inputs;
using Stillwatch.Time;
using Stillwatch.Tuning.MustCatch;

namespace Stillwatch.Storage.Tests.Killing;

/// <summary>A program that imports one recording after another and says what the store reported to it, until it is killed.</summary>
internal static class Importer
{
    public const string Command = "import-until-killed";

    public const int Recordings = 4;

    private const int Rows = 1_000_000;

    public static async Task<int> RunAsync(string place)
    {
        await using var store = await WorkbenchStore.OpenAsync(PlaceOf(place), TimeProvider.System);
        for (int i = 0; i < Recordings; i++)
        {
            int number = i;
            var night = Night(number);
            if (await store.Recordings.StoreAsync(night, Invented.Nurse, new Said(number)) == StoreOutcome.Stored) Say($"stored {number}");
            await store.Marks.AddAsync(night.Id, Mark(number), Invented.Nurse);
            Say($"marked {number}");
        }

        return 0;
    }

    /// <summary>A pleth of more than two hours, the same each time.</summary>
    public static NewRecording Night(int number)
    {
        var random = new Random(number);
        var counts = new CountColumn.Builder();
        for (int i = 0; i < Rows; i++) counts.Add(i % 977 == 0 ? CountColumn.Missing : (int)(1000 * Math.Sin(i / 20.0)) + random.Next(40));
        var channel = new Channel("Pleth", ChannelKind.Pleth, "1", TimeAxis.Even(default, SampleRate.Of(125, 1000), Rows), counts.Build(Calibration.Counts));
        return Invented.Night($"child {number}") with { Recording = new Recording($"child {number}", new RecordingStart.Unknown(), [channel], SourceAveraging.Unknown, []) };
    }

    public static ReviewMark Mark(int number) => new("anna", Invented.Span(number, number + 5), MarkVerdict.RealAndSignificant);

    public static string TextOf(StorePlace place) => place switch
    {
        StorePlace.SqliteFile file => "file:" + file.Path,
        StorePlace.PostgresDatabase database => database.ConnectionString,
        _ => throw new ArgumentException("A store lies in a file or in a database.", nameof(place)),
    };

    private static StorePlace PlaceOf(string text) => text.StartsWith("file:", StringComparison.Ordinal) ? new StorePlace.SqliteFile(text[5..]) : new StorePlace.PostgresDatabase(text);

    private static void Say(string what)
    {
        Console.Out.WriteLine(what);
        Console.Out.Flush();
    }

    private sealed class Said(int number) : IProgress<double>
    {
        private int tenths = -1;

        public void Report(double value)
        {
            if ((int)(value * 10) == tenths) return;
            tenths = (int)(value * 10);
            Say($"writing {number} {tenths}");
        }
    }
}
