using Stillwatch.Formats.Edf.Header;
using Stillwatch.Formats.Tests.Csv;
using Stillwatch.Signals;

namespace Stillwatch.Formats.Tests.Edf;

/// <summary>
/// One field of a good EDF file replaced, line by line: what is listed, what becomes of the SpO2 values, and when the recording starts. The
/// good file holds SpO2 97 96 95 94 at one a second and pulse at two a second, 4 data records of 1 s, and starts on 2026-11-24 at 22:00:00.
/// What is allowed: EDF and EDF+ specifications at edfplus.info/specs.
/// </summary>
public class EdfHeaderFieldTests
{
    private static readonly EdfFile Good = new() { Signals = [EdfTestSignal.SpO2, EdfTestSignal.Pulse] };

    private const string Table = """
        # field                                | signal | value         | listed                                  | SpO2              | start
        version                                |        | 0             |                                         | 97 96 95 94       | local 2026-11-24T22:00:00
        version                                |        | 1             | refused: version                        |                   |
        version                                |        | 00000000      | refused: version                        |                   |
        local patient identification           |        |               |                                         | 97 96 95 94       | local 2026-11-24T22:00:00
        local patient identification           |        | X F X Nobody  | header.identification                   | 97 96 95 94       | local 2026-11-24T22:00:00
        local recording identification         |        | ward 7        | header.identification                   | 97 96 95 94       | local 2026-11-24T22:00:00
        local recording identification         |        | §             | header.identification header.text       | 97 96 95 94       | local 2026-11-24T22:00:00
        startdate                              |        | 31.12.99      |                                         | 97 96 95 94       | local 1999-12-31T22:00:00
        startdate                              |        | 01.01.85      |                                         | 97 96 95 94       | local 1985-01-01T22:00:00
        startdate                              |        | 01.01.84      |                                         | 97 96 95 94       | local 2084-01-01T22:00:00
        startdate                              |        | 29.02.26      | start.date                              | 97 96 95 94       | of day 22:00:00
        startdate                              |        | 24.13.26      | start.date                              | 97 96 95 94       | of day 22:00:00
        startdate                              |        | 00.00.00      | start.date                              | 97 96 95 94       | of day 22:00:00
        startdate                              |        | 24-11-26      | start.date                              | 97 96 95 94       | local 2026-11-24T22:00:00
        startdate                              |        | 4.11.26       | start.date                              | 97 96 95 94       | of day 22:00:00
        startdate                              |        |               | start.date                              | 97 96 95 94       | of day 22:00:00
        starttime                              |        | 23.59.59      |                                         | 97 96 95 94       | local 2026-11-24T23:59:59
        starttime                              |        | 22:00:05      | start.time                              | 97 96 95 94       | local 2026-11-24T22:00:05
        starttime                              |        | 24.00.00      | start.time                              | 97 96 95 94       | unknown
        starttime                              |        | 22.60.00      | start.time                              | 97 96 95 94       | unknown
        starttime                              |        |               | start.time                              | 97 96 95 94       | unknown
        number of bytes in header              |        | 512           | header.size                             | 97 96 95 94       | local 2026-11-24T22:00:00
        number of bytes in header              |        | -1            | header.size                             | 97 96 95 94       | local 2026-11-24T22:00:00
        number of bytes in header              |        |               | header.size                             | 97 96 95 94       | local 2026-11-24T22:00:00
        reserved                               |        | EDF+C         | notes.none                              | 97 96 95 94       | local 2026-11-24T22:00:00
        reserved                               |        | EDF+D         | notes.none record.no-time record.none   |                   |
        reserved                               |        | BDF+C         | header.reserved notes.none              | 97 96 95 94       | local 2026-11-24T22:00:00
        reserved                               |        | 24BIT         | header.reserved                         | 97 96 95 94       | local 2026-11-24T22:00:00
        reserved                               |        | made by hand  | header.reserved                         | 97 96 95 94       | local 2026-11-24T22:00:00
        number of data records                 |        | -1            | record.count-unknown                    | 97 96 95 94       | local 2026-11-24T22:00:00
        number of data records                 |        | -2            | record.count                            | 97 96 95 94       | local 2026-11-24T22:00:00
        number of data records                 |        | 3             | record.count                            | 97 96 95 94       | local 2026-11-24T22:00:00
        number of data records                 |        | 5             | record.count                            | 97 96 95 94       | local 2026-11-24T22:00:00
        number of data records                 |        | 99999999      | record.count                            | 97 96 95 94       | local 2026-11-24T22:00:00
        number of data records                 |        | four          | record.count                            | 97 96 95 94       | local 2026-11-24T22:00:00
        number of data records                 |        | 4.0           | header.number                           | 97 96 95 94       | local 2026-11-24T22:00:00
        duration of a data record              |        | 1.0           |                                         | 97 96 95 94       | local 2026-11-24T22:00:00
        duration of a data record              |        | 1,0           | header.number                           | 97 96 95 94       | local 2026-11-24T22:00:00
        duration of a data record              |        | 1e0           | header.number                           | 97 96 95 94       | local 2026-11-24T22:00:00
        duration of a data record              |        | 0             | record.duration record.none             |                   |
        duration of a data record              |        | -1            | record.duration record.none             |                   |
        duration of a data record              |        | 1 s           | record.duration record.none             |                   |
        duration of a data record              |        | 1e9           | header.number                           | 97 96 95 94       | local 2026-11-24T22:00:00
        duration of a data record              |        | 2e9           | header.number record.duration record.none |                 |
        duration of a data record              |        | 1e-20         | header.number record.duration record.none |                 |
        duration of a data record              |        | 0.0001        | channel.no-spo2 channel.too-fast        |                   | local 2026-11-24T22:00:00
        number of signals                      |        | 0             | header.size record.none record.surplus signal.none |        |
        number of signals                      |        | 1             | header.size record.none record.surplus signal.no-samples | |
        number of signals                      |        | 9999          | refused: number of signals              |                   |
        number of signals                      |        | -1            | refused: number of signals              |                   |
        number of signals                      |        | two           | refused: number of signals              |                   |
        label                                  | 1      |               | channel.no-spo2 header.empty-name       |                   | local 2026-11-24T22:00:00
        label                                  | 1      | Pulse         | channel.no-spo2 channel.unit header.duplicate |  | local 2026-11-24T22:00:00
        label                                  | 1      | SpO2µ         | header.text                             | 97 96 95 94       | local 2026-11-24T22:00:00
        transducer type                        | 1      | finger        |                                         | 97 96 95 94       | local 2026-11-24T22:00:00
        transducer type                        | 1      | 960 = no number |                                       | 97 - 95 94        | local 2026-11-24T22:00:00
        transducer type                        | 1      | 960 = no row  |                                         | 97 95 94          | local 2026-11-24T22:00:00
        transducer type                        | 1      | clip; 960 = no number; 940 = no row |                   | 97 - 95           | local 2026-11-24T22:00:00
        transducer type                        | 1      | 960 = no number, or so |                                | 97 96 95 94       | local 2026-11-24T22:00:00
        transducer type                        | 1      | 960 = no number; clip |                                 | 97 96 95 94       | local 2026-11-24T22:00:00
        physical dimension                     | 1      | mV            | channel.no-spo2 channel.unit            |                   | local 2026-11-24T22:00:00
        physical dimension                     | 1      |               |                                         | 97 96 95 94       | local 2026-11-24T22:00:00
        physical minimum                       | 1      | 102.3         | channel.no-spo2 signal.no-scale         |                   | local 2026-11-24T22:00:00
        physical minimum                       | 1      | nil           | channel.no-spo2 signal.no-scale         |                   | local 2026-11-24T22:00:00
        physical minimum                       | 1      | -9e27         | channel.no-spo2 header.number signal.no-scale |             | local 2026-11-24T22:00:00
        physical minimum                       | 1      | 204.6         | signal.scale                            | 107.6 108.6 109.6 110.6 | local 2026-11-24T22:00:00
        physical maximum                       | 1      | 102,3         | header.number                           | 97 96 95 94       | local 2026-11-24T22:00:00
        physical maximum                       | 1      | 1,02,3        | channel.no-spo2 signal.no-scale         |                   | local 2026-11-24T22:00:00
        physical maximum                       | 1      | +102.3        |                                         | 97 96 95 94       | local 2026-11-24T22:00:00
        digital minimum                        | 1      | 1023          | channel.no-spo2 signal.no-scale         |                   | local 2026-11-24T22:00:00
        digital minimum                        | 1      | 0.5           | channel.no-spo2 signal.no-scale         |                   | local 2026-11-24T22:00:00
        digital minimum                        | 1      | 0.0           | header.number                           | 97 96 95 94       | local 2026-11-24T22:00:00
        digital minimum                        | 1      | -40000        | signal.scale                            | 102.167833 102.142895 102.117958 102.093021 | local 2026-11-24T22:00:00
        digital minimum                        | 1      | 2046          | signal.beyond-range signal.scale        | 107.6 108.6 109.6 110.6 | local 2026-11-24T22:00:00
        digital maximum                        | 1      | 960           | signal.beyond-range                     | 103.365625 102.3 101.234375 100.16875 | local 2026-11-24T22:00:00
        prefiltering                           | 1      | none          |                                         | 97 96 95 94       | local 2026-11-24T22:00:00
        number of samples in each data record  | 1      | 0             | channel.no-spo2 record.count signal.beyond-range signal.no-samples |            | local 2026-11-24T22:00:00
        number of samples in each data record  | 1      | -1            | refused: number of samples in each data record |            |
        number of samples in each data record  | 1      |               | refused: number of samples in each data record |            |
        number of samples in each data record  | 1      | 1 x           | refused: number of samples in each data record |            |
        number of samples in each data record  | 2      | 99999999      | channel.too-fast record.count record.cut record.large signal.beyond-range | 97                | local 2026-11-24T22:00:00
        number of samples in each data record  | 2      | 2e9           | refused: number of samples in each data record |            |
        """;

    public static TheoryData<string> Lines => [.. Table.Split('\n').Select(l => l.Trim()).Where(l => l.Length > 0 && l[0] != '#')];

    [Theory]
    [MemberData(nameof(Lines))]
    public void A_field_that_says_otherwise(string line)
    {
        string[] cells = [.. line.Split('|').Select(c => c.Trim()), ""];
        int? signal = cells[1].Length > 0 ? int.Parse(cells[1]) - 1 : null;
        var field = (signal is null ? EdfFields.Fixed : EdfFields.OfSignal).Single(f => f.Name == cells[0]);
        byte[] bytes = EdfFile.Patch(Good.ToBytes(), field, cells[2], signal);
        if (cells[3].StartsWith("refused: ", StringComparison.Ordinal))
        {
            var error = Assert.Throws<UnreadableFileException>(() => EdfFile.ReadBytes(bytes));
            Assert.Contains(cells[3][9..], error.Where + error.Expected + (field == EdfFields.SignalCount ? "number of signals" : ""), StringComparison.Ordinal);
            return;
        }

        var result = EdfFile.ReadBytes(bytes);
        string spo2 = result.Recording?.Find(ChannelKind.SpO2) is { } channel ? Csv.Table.Values(channel) : "";
        Assert.Equal((cells[3], cells[4], cells[5]), (result.Codes(), spo2, result.Recording?.Start.Show() ?? ""));
    }

    [Theory]
    [InlineData("24.11.26", "Startdate 24-NOV-2026 X X X", "", "local 2026-11-24T22:00:00")]
    [InlineData("24.11.26", "Startdate 24-nov-2026 X X X", "", "local 2026-11-24T22:00:00")]
    [InlineData("24.11.26", "Startdate 24-NOV-2126 X X X", "start.disagrees", "local 2126-11-24T22:00:00")]
    [InlineData("24.11.26", "Startdate 25-NOV-2026 X X X", "start.disagrees", "local 2026-11-25T22:00:00")]
    [InlineData("24.11.yy", "Startdate 24-NOV-2099 X X X", "", "local 2099-11-24T22:00:00")]
    [InlineData("24.11.yy", "X X X X", "start.date", "of day 22:00:00")]
    [InlineData("24.11.26", "Startdate X X X X", "start.date", "of day 22:00:00")]
    [InlineData("24.11.26", "Startdate 31-NOV-2026 X X X", "start.date", "local 2026-11-24T22:00:00")]
    [InlineData("24.11.26", "Startdate soon X X X", "start.date", "local 2026-11-24T22:00:00")]
    [InlineData("24.11.26", "Startdate 24-NOV-2026 bed7 Ann Box", "header.identification", "local 2026-11-24T22:00:00")]
    public void The_full_year_of_EDF_plus_stands_in_the_recording_identification(string startDate, string recording, string codes, string start)
    {
        var result = Plus(startDate, "22.00.00", recording).Read();
        Assert.Equal((codes, start), (result.Codes(), result.Recording!.Start.Show()));
    }

    [Theory]
    [InlineData("Startdate X X X X", "01.01.85", "start.date start.placeholder", "of day 00:00:00")]
    [InlineData("Startdate 01-JAN-1985 X X X", "01.01.85", "start.placeholder", "local 1985-01-01T00:00:00")]
    [InlineData("Startdate 02-JAN-1985 X X X", "02.01.85", "", "local 1985-01-02T00:00:00")]
    public void A_start_that_may_stand_for_an_unknown_one_is_listed(string recording, string startDate, string codes, string start)
    {
        var result = Plus(startDate, "00.00.00", recording).Read();
        Assert.Equal((codes, start), (result.Codes(), result.Recording!.Start.Show()));
    }

    [Fact]
    public void What_the_header_says_of_the_patient_is_said_nowhere()
    {
        var result = (Good with { Patient = "12345 F 02-AUG-1951 Grace_M\u00fcller", Recording = "Startdate 24-NOV-2026 Stay99 Dr_Stone Rack" }).Read();
        Assert.Equal(2, result.Issues.Count(i => i.Code == "header.identification"));
        Assert.True(result.Has("header.text"));
        string everything = string.Join('\n', result.Issues) + result.Recording;
        Assert.All(["12345", "Grace", "ller", "1951", "Stay99", "Stone", "Rack"], word => Assert.DoesNotContain(word, everything, StringComparison.Ordinal));
    }

    [Fact]
    public void Control_characters_of_a_label_do_not_reach_a_terminal()
    {
        var result = EdfFile.ReadBytes(EdfFile.Patch(Good.ToBytes(), EdfFields.Label, "SpO2 \u001b[31m\u0007", 0));
        Assert.Equal("SpO2 ·[31m·", result.Recording!.Channels[0].Label);
        Assert.DoesNotContain(string.Join('\n', result.Issues), char.IsControl);
        Assert.True(result.Has("header.text"));
    }

    [Fact]
    public void A_number_that_is_filled_up_with_zero_bytes_is_read_and_listed()
    {
        var result = EdfFile.ReadBytes(EdfFile.Patch(Good.ToBytes(), EdfFields.DigitalMaximum, "1023\0\0\0\0", 0));
        Assert.Equal(("header.number", "97 96 95 94"), (result.Codes(), result.Recording!.Values(ChannelKind.SpO2)));
    }

    [Fact]
    public void Sums_that_a_header_claims_are_not_allocated()
    {
        byte[] bytes = EdfFile.Patch(EdfFile.Patch(Good.ToBytes(), EdfFields.SamplesPerRecord, "99999999", 1), EdfFields.RecordCount, "99999999");
        long before = GC.GetAllocatedBytesForCurrentThread();
        Assert.True(EdfFile.ReadBytes(bytes).Has("record.cut"));
        Assert.InRange(GC.GetAllocatedBytesForCurrentThread() - before, 0, 1_000_000);
    }

    [Theory]
    [InlineData("night.edf", "0       ", true)]
    [InlineData("night", "0       ", true)]
    [InlineData("night.csv", "0       ", true)]
    [InlineData("night.edf", "1       ", true)]
    [InlineData("night.csv", "1       ", false)]
    [InlineData("night", "\u00ffBIOSEMI", true)]
    [InlineData("night", "\u00feBIOSEMI", false)]
    public void A_file_is_told_by_its_bytes(string name, string version, bool isEdf) =>
        Assert.Equal(isEdf, new Formats.Edf.EdfRecordingReader().Recognises(EdfFile.Patch(Good.ToBytes(), EdfFields.Version, version), name));

    [Theory]
    [InlineData("time,SpO2\n0,97\n1,96\n")]
    [InlineData("0       ,97\n1       ,96\n")]
    public void A_table_is_not_taken_for_EDF_whatever_its_name(string text)
    {
        byte[] bytes = System.Text.Encoding.ASCII.GetBytes(string.Concat(Enumerable.Repeat(text, 20)));
        Assert.False(new Formats.Edf.EdfRecordingReader().Recognises(bytes, "night.csv"));
    }

    private static EdfFile Plus(string startDate, string startTime, string recording) => Good with
    {
        Reserved = "EDF+C",
        StartDate = startDate,
        StartTime = startTime,
        Recording = recording,
        Signals = [EdfTestSignal.SpO2, EdfTestSignal.Notes(10, r => $"+{r}")],
    };
}
