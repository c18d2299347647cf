using Stillwatch.Formats.Edf;
using Stillwatch.Formats.Tests.Contract;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>EDF and BDF sit the test of all readers. <see cref="EdfTwin"/> decodes each damaged file a second time, plainly.</summary>
public class EdfContractTests : ReaderContract
{
    protected override IRecordingReader Reader => new EdfRecordingReader();

    protected override IReadOnlyList<ReaderSample> Samples { get; } =
    [
        Sample("EDF with mixed rates", new EdfFile { Signals = [EdfTestSignal.SpO2, EdfTestSignal.Pulse, EdfTestSignal.Pleth] }),
        Sample("EDF+C that starts within a second, with annotations", new EdfFile
        {
            Reserved = "EDF+C", Records = 5, RecordSeconds = "0.5",
            Signals = [EdfTestSignal.Pleth, EdfTestSignal.SpO2, EdfTestSignal.Notes(30, r => $"+{r * 0.5 + 0.25:0.00}", r => r == 2 ? ["+1.5;2|turned", "-3|before the start|twice"] : [])],
        }),
        Sample("EDF+D with two gaps", new EdfFile
        {
            Reserved = "EDF+D", Records = 6,
            Signals = [EdfTestSignal.Notes(12, r => $"+{r + (r > 1 ? 10 : 0) + (r > 4 ? 0.5 : 0):0.0}"), EdfTestSignal.SpO2, EdfTestSignal.Pleth],
        }),
        Sample("BDF+C", new EdfFile
        {
            IsBdf = true, Reserved = "BDF+C",
            Signals = [EdfTestSignal.SpO2, EdfTestSignal.Pleth with { Count = i => i * 123_457 % 16_000_001 - 8_000_000 }, EdfTestSignal.Notes(20, r => $"+{r}", label: "BDF Annotations")],
        }),
        Sample("EDF+C with stand-ins for numbers and rows", new EdfFile
        {
            Reserved = "EDF+C", RecordSeconds = "2",
            Signals =
            [
                EdfTestSignal.SpO2 with { SamplesPerRecord = 4, Transducer = "finger; -32768 = no number; -32767 = no row", Count = i => i % 5 == 3 ? -32768 : i is 6 or 7 or 15 ? -32767 : 970 - i },
                EdfTestSignal.Notes(12, r => $"+{2 * r}"),
            ],
        }),
        Sample("EDF+C with annotations alone", new EdfFile { Reserved = "EDF+C", Records = 1, RecordSeconds = "0", Signals = [EdfTestSignal.Notes(40, _ => "+0", _ => ["+1;2|asleep", "+3|awake"])] }),
    ];

    protected override void Account(ReaderSample damaged, ReadResult result) => new EdfTwin(damaged.Bytes).Account(result);

    private static ReaderSample Sample(string name, EdfFile file) => ReaderSample.Of(name, file.IsBdf ? "night.bdf" : "night.edf", file.ToBytes(), file.Boundaries);
}
